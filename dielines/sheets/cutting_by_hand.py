"""The numbered cuts of every sheet that is cut from edge to edge: by trimmer, or knife and rule."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from textwrap import wrap

from ..book.book import Book
from ..lengths import Length, Unit, millimetres, show
from ..packing.guillotine.trimming import Margins, Piece, Purpose, Step, cut_steps, offcuts
from ..packing.order import Way
from ..workshop.sizes import Size
from ..workshop.workshop import Workshop
from .laying_out import STAGES
from .layout import BookLayout, SheetLayout, StockLayout
from .sheets_text import WORDS, size_words, times_words
from .way_of_cutting import By

CUTTING_BY_HAND = "cutting-by-hand.txt"
WIDTH = 100
WORTH_KEEPING = millimetres(50)  #: common practice: a narrower offcut is waste
EDGES = {Way.UPRIGHT: "left", Way.LEVEL: "lower"}
_ROW = "{:>5} {:<14} {:<9} {:<10} {:<27} {}"
_HOW = (
    "Each step sets the fence once: so far from the blade, with the left or the lower edge of the "
    "piece against it. With knife and rule, measure as far from that edge. Sheets and pieces lie as "
    "in the picture of the sheets; for a cut along the lower edge turn the piece clockwise by a "
    "quarter, and back again afterwards. With a new stage the way of the cuts changes. Pencil the "
    "small letters lightly on the pieces: a later step names them. What is left of a piece keeps its "
    "letter; write it anew where it was cut off. Parts have the letters of the cut list, as "
    "rectangles; scores, notches and corners come afterwards."
)
_CARE = (
    "Keep fingers away from the blade, lock it when it rests, and follow what the maker of the "
    "trimmer says. With a knife: a metal rule, a mat, several light strokes, the free hand behind "
    "the blade, and a new blade in time."
)


def is_cut_by_hand(layout: BookLayout) -> bool:
    """Return whether a sheet of *layout* is cut from edge to edge."""
    return any(stock.terms.by.is_edge_to_edge and stock.sheets for stock in layout.stocks)


def cutting_by_hand_text(book: Book, layout: BookLayout, workshop: Workshop) -> str:
    """Return the text of ``cutting-by-hand.txt``."""
    lines = [*wrap(f"{book.title}: cutting by hand", WIDTH), "", *wrap(_HOW, WIDTH), ""]
    lines += wrap(_CARE, WIDTH)
    for stock in layout.stocks:
        if stock.terms.by.is_edge_to_edge:
            for sheet in stock.sheets:
                lines += ["", *_sheet_lines(stock, sheet, book.units, workshop)]
    return "\n".join(lines) + "\n"


def steps_of(stock: StockLayout, sheet: SheetLayout) -> tuple[Step, ...]:
    """Return the cuts of one sheet, in units of the stock's scale."""
    margin = stock.scale.down(stock.terms.reach.margin)
    gap = stock.scale.up(stock.terms.gap)
    return cut_steps(sheet.pattern, stock.order, Margins(margin, margin, margin, margin), gap)


def _sheet_lines(
    stock: StockLayout, sheet: SheetLayout, units: Unit, workshop: Workshop
) -> Iterator[str]:
    size = size_words(sheet.room, units)
    head = f"Sheet {sheet.number}, {stock.stock.name}, {size}, {WORDS[stock.terms.by]}"
    yield from wrap(f"{head}: {times_words(sheet.times)}", WIDTH)
    steps = steps_of(stock, sheet)
    yield _ROW.format("", "fence at", "its edge", "piece", "between fence and blade", "beyond")
    yield from _rows(steps, stock, units)
    longest = stock.scale.length(max((step.longest for step in steps), default=0))
    yield from _too_long(longest, stock.terms.by, workshop, units)
    yield from _left_over(steps, stock, units)


def _left_over(steps: Sequence[Step], stock: StockLayout, units: Unit) -> Iterator[str]:
    """Yield the offcuts worth keeping, the largest first."""
    kept = [
        Size(*(stock.scale.length(side) for side in piece[:2])).words(units, 32)
        for piece in offcuts(steps)
        if min(stock.scale.length(side) for side in piece[:2]) >= WORTH_KEEPING
    ]
    if kept:
        words = f"Left over and large enough to keep: {', '.join(kept)}."
        yield from wrap(words, WIDTH, initial_indent="  ", subsequent_indent="  ")


def _rows(steps: Sequence[Step], stock: StockLayout, units: Unit) -> Iterator[str]:
    heading = ""
    for step in steps:
        if heading != (heading := _heading(step)):
            yield f"  {heading}"
        fence = show(stock.scale.length(step.fence), units, 32)
        lead = (f"{step.number}.", fence, EDGES[step.way])
        for number, stroke in enumerate(step.strokes):
            piece = "the sheet" if step.number == 1 and not number else _letter(stroke.piece)
            near, far = (_named(one, stock, units) for one in (stroke.near, stroke.far))
            yield _ROW.format(*(lead if not number else ("", "", "")), piece, near, far).rstrip()


def _heading(step: Step) -> str:
    if step.purpose is Purpose.MARGIN:
        return "margins"
    if step.purpose is Purpose.TRIM and step.stage > STAGES:
        return "last trims"
    return f"stage {step.stage}"


def _letter(piece: Piece) -> str:
    return (piece.letter or "").lower()


def _named(piece: Piece, stock: StockLayout, units: Unit) -> str:
    if piece.letter:
        across, up = (stock.scale.length(side) for side in (piece.width, piece.height))
        return f"{_letter(piece)}, {Size(across, up).words(units, 32)}"
    if piece.kind is None:
        return "offcut"
    return f"part {stock.wanted[piece.kind].letter}"


def _too_long(longest: Length, by: By, workshop: Workshop, units: Unit) -> Iterator[str]:
    """Yield a word on cuts that are longer than the trimmer."""
    if by is By.TRIMMER and longest > workshop.trimmer.length:
        yield from wrap(
            f"The longest cut is {show(longest, units, 32)}, more than your trimmer's "
            f"{show(workshop.trimmer.length, units)}: take knife and rule for it.",
            WIDTH, initial_indent="  ", subsequent_indent="  ",
        )  # fmt: skip
