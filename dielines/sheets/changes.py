"""Small changes to a book and to how it is cut, one at a time: what could save a sheet."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from ..book.book import Book
from ..book.request import SizeKind
from ..lengths import ZERO, Length, Unit, inches, millimetres, show
from ..workshop.sizes import Size
from .way_of_cutting import By, Terms

#: By how much a size is made smaller: what a person would hardly see, up to what one would.
STEPS: dict[Unit, tuple[Length, ...]] = {
    "in": (inches("1/16"), inches("1/8"), inches("1/4")),
    "mm": (millimetres(1), millimetres(3), millimetres(6)),
}


@dataclass(frozen=True)
class Change:
    """One change: in words, as a person types it, and how large it is beside others.

    *setting* is what ``--set`` takes; empty where *gap* or *margin* changes instead.
    """

    words: str
    typed: str
    setting: str = ""
    gap: Length | None = None
    margin: Length | None = None
    step: Length = ZERO


def changes_of(book: Book, terms: Terms) -> Iterator[Change]:
    """Yield the changes worth trying, small steps before large ones.

    *terms* are those on which the pages are cut.
    """
    for step in STEPS[book.units]:
        yield from _of_size(book, step)
        yield from _of_usual_sizes(book, step)
        yield from _of_cutting(book, terms, step)


def _of_size(book: Book, step: Length) -> Iterator[Change]:
    rule = book.request.size
    if rule.kind is SizeKind.SHEET:
        return
    for side, words in enumerate(("narrower", "lower")):
        sides = [length - step if n == side else length for n, length in enumerate(rule.sides)]
        if sides[side] > ZERO:
            said = _plain(Size(*sides), book.units)
            setting = f"size={rule.kind.value} {said}"
            told = f"{rule.kind.value} {show(step, book.units)} {words}"
            yield Change(told, f'--set "{setting}"', setting, step=step)


def _plain(size: Size, units: Unit) -> str:
    return f"{_number(size.across, units)} x {_number(size.up, units)}"


def _number(length: Length, units: Unit) -> str:
    """Return a length exactly, as a person types it; the unit is the book's."""
    value = length.mm / (inches(1).mm if units == "in" else 1)
    whole, rest = divmod(value, 1)
    if not rest:
        return str(whole)
    return f"{whole} {rest}" if whole else str(rest)


def _of_usual_sizes(book: Book, step: Length) -> Iterator[Change]:
    for name, row in book.request.usual.rows.items():
        if row.length is None or row.least is None or name not in book.reasons.by_name:
            continue
        smaller = row.length - step
        if smaller < row.least or smaller < ZERO:
            continue
        setting = f"usual.{name}={_number(smaller, book.units)}"
        spoken = name.replace("_", " ")
        words = f"{spoken} {show(smaller, book.units)} in place of {show(row.length, book.units)}"
        yield Change(words, f'--set "{setting}"', setting, step=step)


def _of_cutting(book: Book, terms: Terms, step: Length) -> Iterator[Change]:
    """Yield a smaller gap, and a smaller margin of the machine or the trimmer."""
    if terms.gap >= step:
        gap = terms.gap - step
        words = f"{show(gap, book.units)} between parts in place of {show(terms.gap, book.units)}"
        yield Change(words, f'--gap "{_number(gap, book.units)}"', gap=gap, step=step)
    margin = terms.reach.margin
    if margin >= step:
        less = margin - step
        words = f"a margin of {show(less, book.units)} in place of {show(margin, book.units)}"
        table = "trimmer" if terms.by is By.TRIMMER else "machine"
        typed = f'margin = "{show(less, book.units)}" below [{table}]'
        yield Change(words, typed, margin=less, step=step)
