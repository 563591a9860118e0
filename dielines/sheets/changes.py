"""Small changes to a book and to how it is cut, one at a time: what could save a sheet.

Left out is what would be no advice. Nothing shrinks to less than half of what it is:
that is another design, and no small change. So no size of a book comes down to nothing,
where what it stands for would be gone. A machine keeps a margin, for it cannot cut up to
the edge of what it holds, and a gap: along an edge that two parts share, a blade would
run twice. With a trimmer both may well be nothing: one cut parts two neighbours, and the
edges of a bought sheet are straight (all of it common practice, no source).
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from fractions import Fraction

from ..book.book import Book
from ..book.request import SizeKind
from ..lengths import ZERO, Length, Unit, inches, millimetres, show
from ..sizes.usual import UsualSize
from ..workshop.sizes import Size
from .way_of_cutting import By, Terms

#: By how much a size is changed: what a person would hardly see, up to what one would.
STEPS: dict[Unit, tuple[Length, ...]] = {
    "in": (inches("1/16"), inches("1/8"), inches("1/4")),
    "mm": (millimetres(1), millimetres(3), millimetres(6)),
}
LEAST_SHARE = Fraction(1, 2)  #: of a size, below which it is a small change no longer
MOST_SHARE = 2  #: of one that grows, above which it is none

USUAL = "usual "  #: what the kinds of change of usual sizes begin with
#: Usual sizes that leave parts smaller where they grow.
GROWING = ("mat_border", "short_of_middle")
#: Usual sizes on which the rectangle around no part hangs, or not so that less is less.
WITHOUT_PAPER = ("tape_margin", "hold_tape_margin", "notch", "taper", "rounding")
#: How usual sizes are called where their own name says too little, or what another one is called.
SPOKEN = {
    "margin": "margin around the photo",
    "depth": "depth of pockets and flaps",
    "flap": "width of flaps",
    "fin": "height of fins",
    "joint": "joint beside the spine",
    "hold": "hold of the joint wrap",
    "play": "play on the spine",
    "square": "square of the boards",
    "fore_edge": "boards beyond the fore-edge",
    "mat_border": "border around mats",
    "short_of_middle": "doors short of the middle",
}


@dataclass(frozen=True)
class Change:
    """One change: in words, as a person types it, and how large it is beside what there is.

    *kind* is the same for small and large steps of one size. *setting* is what ``--set``
    takes; empty where *gap* or *margin* changes instead.
    """

    kind: str
    words: str
    typed: str
    share: Fraction  #: of what is changed
    setting: str = ""
    gap: Length | None = None
    margin: Length | None = None


#: Changes of one kind, small before large
Ladder = tuple[Change, ...]


def ladders_of(book: Book, terms: Terms, least_gap: Length = ZERO) -> Iterator[Ladder]:
    """Yield the changes worth trying, those of one kind together.

    *terms* are those on which the pages are cut. *least_gap* must stay between parts: what
    the cut itself takes away.
    """
    ladders = (
        *_of_size(book),
        *_of_usual_sizes(book),
        _of_gap(book.units, terms, least_gap),
        _of_margin(book.units, terms),
    )
    yield from (ladder for ladder in ladders if ladder)


def _of_size(book: Book) -> Iterator[Ladder]:
    rule = book.request.size
    if rule.kind is SizeKind.SHEET:
        return
    for side, words in enumerate(("narrower", "lower")):

        def change(length: Length, step: Length, side: int = side, words: str = words) -> Change:
            sides = [length if n == side else other for n, other in enumerate(rule.sides)]
            setting = f"size={rule.kind.value} {_plain(Size(*sides), book.units)}"
            said = f"{rule.kind.value} {show(step, book.units)} {words}"
            share = step / rule.sides[side]
            return Change(f"size {words}", said, f'--set "{setting}"', share, setting)

        yield _ladder(rule.sides[side], book.units, change)


def _ladder(
    length: Length, units: Unit, change: Callable[[Length, Length], Change], least: Length = ZERO
) -> Ladder:
    """Return the changes of a *length* that shrinks, by the new length and the step."""
    return tuple(
        change(length - step, step)
        for step in STEPS[units]
        if length - step >= max(least, length * LEAST_SHARE)
    )


def _plain(size: Size, units: Unit) -> str:
    return f"{_number(size.across, units)} x {_number(size.up, units)}"


def _number(length: Length, units: Unit) -> str:
    """Return a length exactly, as a person types it; the unit is the book's."""
    value = length.mm / (inches(1).mm if units == "in" else 1)
    whole, rest = divmod(value, 1)
    if not rest:
        return str(whole)
    return f"{whole} {rest}" if whole else str(rest)


def _of_usual_sizes(book: Book) -> Iterator[Ladder]:
    for name, row in book.request.usual.rows.items():
        if name in WITHOUT_PAPER or name not in book.reasons.by_name or not row.length:
            continue
        yield _of_usual_size(row, row.length, book.units)


def _of_usual_size(row: UsualSize, length: Length, units: Unit) -> Ladder:
    def change(new: Length, step: Length) -> Change:
        setting = f"usual.{row.name}={_number(new, units)}"
        name = SPOKEN.get(row.name, row.name.replace("_", " "))
        words = f"{name} {_in_place(new, length, units)}"
        return Change(f"{USUAL}{row.name}", words, f'--set "{setting}"', step / length, setting)

    if row.name not in GROWING:
        return _ladder(length, units, change, row.least or ZERO)
    most = length * MOST_SHARE if row.most is None else min(row.most, length * MOST_SHARE)
    return tuple(change(length + step, step) for step in STEPS[units] if length + step <= most)


def _in_place(new: Length, old: Length, units: Unit) -> str:
    return f"{show(new, units)} in place of {show(old, units)}"


def _of_gap(units: Unit, terms: Terms, least: Length) -> Ladder:
    def change(gap: Length, step: Length) -> Change:
        words = f"gap between parts {_in_place(gap, terms.gap, units)}"
        typed = f'--gap "{_number(gap, units)}"'
        return Change("gap", words, typed, step / terms.gap, gap=gap)

    return _of_cutting(terms.gap, terms, units, change, least)


def _of_margin(units: Unit, terms: Terms) -> Ladder:
    margin, tool = terms.reach.margin, terms.by.value

    def change(less: Length, step: Length) -> Change:
        words = f"what the {tool} leaves bare {_in_place(less, margin, units)}"
        typed = f'[{tool}] margin = "{show(less, units)}" in the workshop file'
        if terms.by is By.MACHINE:
            typed += ", if it reaches so far"
        return Change("margin", words, typed, step / margin, margin=less)

    return _of_cutting(margin, terms, units, change)


def _of_cutting(
    length: Length,
    terms: Terms,
    units: Unit,
    change: Callable[[Length, Length], Change],
    least: Length = ZERO,
) -> Ladder:
    """Return the changes of a gap or margin; with a trimmer it may become nothing."""
    if terms.by is By.KNIFE or not length:
        return ()
    if terms.by is By.MACHINE:
        return _ladder(length, units, change, least)
    steps = sorted({min(step, length) for step in STEPS[units]}, key=lambda step: step.mm)
    return tuple(change(length - step, step) for step in steps)
