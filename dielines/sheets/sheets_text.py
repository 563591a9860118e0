"""The sheets of a book in words: how many, what lies on each, and what no layout can beat."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from decimal import ROUND_FLOOR, Decimal
from textwrap import wrap

from ..book.book import Book
from ..lengths import Unit, show
from ..part import Side
from ..workshop.machine import Machine
from ..workshop.sizes import Size, size_name
from ..workshop.workshop import Workshop
from .hidden_labels import hidden_labels
from .layout import BookLayout, SheetLayout, StockLayout
from .prices import PLACES, next_cost, prices_of
from .rooms import Room
from .wanted import Wanted
from .way_of_cutting import By

WIDTH = 100
WORDS = {
    By.MACHINE: "by machine",
    By.TRIMMER: "with the trimmer",
    By.KNIFE: "with knife and rule",
}


def sheets_text(book: Book, layout: BookLayout, workshop: Workshop) -> str:
    """Return the text of ``sheets.txt``."""
    lines = [*wrap(f"{book.title}: sheets", WIDTH), "", *_head(book)]
    for stock in layout.stocks:
        lines += ["", *stock_lines(stock, book.units, workshop.currency)]
    lines += _pen_lines(layout, workshop.machine)
    return "\n".join(lines) + "\n"


def _head(book: Book) -> Iterator[str]:
    copies, spares = book.request.copies, book.request.spares
    if copies > 1 or spares:
        plural = "y" if copies == 1 else "ies"
        more = f", with {spares} spare of each letter in every copy" if spares else ""
        yield from wrap(f"For {copies} cop{plural}{more}.", WIDTH)
    yield from wrap(
        "Sheets that are cut alike have one number. Parts have the letters of the cut list.", WIDTH
    )


def _pen_lines(layout: BookLayout, machine: Machine) -> Iterator[str]:
    """Yield on which parts a machine with a pen writes no name."""
    bare = unlabelled(layout, machine)
    if bare:
        yield ""
        yield from wrap(
            f"The pen writes no name on {', '.join(bare)}: no tape hides a place that is large enough.",
            WIDTH,
        )


def unlabelled(layout: BookLayout, machine: Machine) -> tuple[str, ...]:
    """Return the letters of the parts on which the pen of *machine* finds no hidden place."""
    if "LABEL" not in machine.cut_layers:
        return ()
    parts = {
        one.letter: one
        for stock in layout.stocks
        if stock.terms.by is By.MACHINE
        for one in stock.wanted
    }
    side = Side(machine.side_up)
    return tuple(
        letter
        for letter, one in parts.items()
        if not hidden_labels(one.part, letter, one.title, side)
    )


def stock_lines(stock: StockLayout, units: Unit, currency: str = "") -> Iterator[str]:
    """Yield how many sheets of a stock are cut, the bound, and what lies on each sheet."""
    yield from wrap(
        f"{stock.stock.name}, {WORDS[stock.terms.by]}: {total(stock, units, currency)}", WIDTH
    )
    yield from wrap(_terms(stock, units), WIDTH, initial_indent="  ", subsequent_indent="  ")
    for words in reaches(stock, units):
        yield from wrap(words, WIDTH, initial_indent="  ", subsequent_indent="  ")
    if stock.saved:
        words = f"{stock.saved} sheet{'s' if stock.saved > 1 else ''} fewer than if parts were rectangles"
        yield from wrap(words, WIDTH, initial_indent="  ", subsequent_indent="  ")
    for one in stock.too_large:
        yield from wrap(_too_large(one), WIDTH, initial_indent="  ", subsequent_indent="  ")
    for sheet in stock.sheets:
        yield from _sheet_lines(sheet, units)


def total(stock: StockLayout, units: Unit, currency: str = "") -> str:
    """Return how many sheets of which size, what they cost, and what no layout can beat."""
    left_out = _left_out(stock)
    if not stock.sheets:
        return f"no sheet{left_out}"
    counted: Counter[str] = Counter()
    for sheet in stock.sheets:
        counted[size_words(sheet.room, units)] += sheet.times
    sheets = joined(
        [f"{count} sheet{'s' if count > 1 else ''} of {size}" for size, count in counted.items()]
    )
    return f"{sheets}{_cost_words(stock, currency)}; {bound_words(stock, currency)}{left_out}"


def joined(words: Sequence[str]) -> str:
    """Return *words* as one says them.

    >>> joined(["A"]), joined(["A", "B", "C"])
    ('A', 'A, B and C')
    """
    return " and ".join([", ".join(words[:-1]), words[-1]] if len(words) > 1 else words)


def _left_out(stock: StockLayout) -> str:
    many = len(stock.too_large) > 1
    words = "fit no sheet and are left out" if many else "fits no sheet and is left out"
    letters = [one.letter for one in stock.too_large]
    return f"; {joined(letters)} {words}" if letters else ""


def size_words(room: Room, units: Unit) -> str:
    """Return the size of a sheet as it lies, and whether it is one of a few."""
    size = sheet_words(room.sheet.size, units)
    if room.is_missing:
        return f"{size} beyond what you have"
    own = f" of the {room.sheet.have} you have" if room.sheet.have else ""
    return f"{size}{own}"


def sheet_words(size: Size, units: Unit) -> str:
    """Return the size of a sheet by its name, or as it measures."""
    return size_name(size) or size.words(units)


def _cost_words(stock: StockLayout, currency: str) -> str:
    cost = stock.cost
    if cost is None or not prices_of(stock.rooms).is_money:
        return ""
    return f", {cost:.2f} {currency}".rstrip()


def least_cost(stock: StockLayout) -> Decimal | None:
    """Return what every layout costs at least, in full hundredths; None where that is not known."""
    if stock.missing or not prices_of(stock.rooms).is_money:
        return None
    least = Decimal(next_cost(stock.order.beds, stock.plan.bound)).scaleb(-PLACES)
    return least.quantize(Decimal("0.01"), ROUND_FLOOR)


def bound_words(stock: StockLayout, currency: str = "") -> str:
    """Return what is known of better layouts: that there is none, or how far one could go."""
    if is_proved(stock):
        return "no layout can need fewer" if stock.count > 1 else "no layout can need less"
    if prices_of(stock.rooms).is_money:
        least = least_cost(stock)
        words = f"; none can cost less than {least} {currency}".rstrip() if least else ""
        return f"no better layout was found{words}"
    count = least_sheets(stock)
    if count >= stock.count:
        return "no layout can need fewer" if stock.count > 1 else "no layout can need less"
    return f"no better layout was found; none can need fewer than {count}"


def is_proved(stock: StockLayout) -> bool:
    """Return whether no layout can cost less, or need fewer sheets where they are only counted."""
    beds = stock.order.beds
    return not stock.sheets or next_cost(beds, stock.plan.bound) >= stock.plan.price(beds)


def least_sheets(stock: StockLayout) -> int:
    """Return how many sheets every layout needs at least, where sheets are only counted."""
    dearest = max(bed.price for bed in stock.order.beds)
    return -(-stock.plan.bound // dearest)


def _terms(stock: StockLayout, units: Unit) -> str:
    gap, margin = stock.terms.gap, stock.terms.reach.margin
    if not gap and not margin:
        return "parts may touch, and lie up to the edges"
    between = f"{show(gap, units)} between parts" if gap else "parts may touch"
    bare = f"{show(margin, units)} stays bare along each edge" if margin else "none along the edges"
    return f"{between}, {bare}"


def reaches(stock: StockLayout, units: Unit) -> Iterator[str]:
    """Yield of which sheets the machine gets at a part only, and what a person can do about it."""
    for room in dict.fromkeys(sheet.room for sheet in stock.sheets):
        if room.is_only_a_part:
            yield _reach(room, units)


def _reach(room: Room, units: Unit) -> str:
    return (
        f"the machine reaches only {room.size.words(units)} of {sheet_words(room.sheet.size, units)}: "
        "if the rest is too good to waste, cut the sheets down first, and list the pieces as sheets"
    )


def _too_large(one: Wanted) -> str:
    return f"{one.letter} {one.title}: fits no sheet and is left out"


def _sheet_lines(sheet: SheetLayout, units: Unit) -> Iterator[str]:
    counts = Counter(one.letter for one in sheet.placed)
    parts = ", ".join(
        f"{count} x {letter}" if count > 1 else letter for letter, count in counts.items()
    )
    head = f"  sheet {sheet.number}: {times_words(sheet.times)}, {sheet.used:.0%} used: "
    yield from wrap(f"{head}{parts}", WIDTH, subsequent_indent=" " * 6)


def times_words(times: int) -> str:
    """Return how often, in words."""
    return "once" if times == 1 else f"{times} times"
