"""Words that all rules share: amounts in the book's units, names of parts and panels."""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction
from typing import NamedTuple

from ..book import join_words
from ..book.book import Book, BookPart
from ..book.join_words import owner
from ..book.spans import FINEST, measured
from ..folding.folded_book import FoldedBook
from ..folding.folded_part import FoldedPart
from ..lengths import MM_PER_UNIT, show
from ..part import FoldKey, Part
from ..paths import Number

_NUMBERED = re.compile(r"(?<=[a-z])(?=\d+$)")  #: between a name and its number
_PAGE = re.compile(r"page-\d+")  #: the key of a page itself
#: what is shown of a length that rounds to nothing, by the book's units
_LEAST = {"in": Fraction(1, FINEST), "mm": Fraction(1, 10)}


class DistinctPart(NamedTuple):
    """The first of the parts of a book that are cut and folded alike."""

    entry: BookPart
    folded: FoldedPart
    number: int  #: how many there are, this one included

    @property
    def key(self) -> str:
        """The key of the first of them."""
        return self.entry.key

    @property
    def part(self) -> Part:
        """The flat part."""
        return self.entry.part


def distinct_parts(folded: FoldedBook) -> Iterator[DistinctPart]:
    """Yield the first of each set of parts that are alike, in the order of the book.

    Alike are parts of one letter (hence of one role and stock) that are folded alike.
    """
    found: dict[tuple[str, int], list[BookPart]] = {}
    for entry in folded.book.parts:
        found.setdefault((entry.letter, id(folded.parts[entry.key])), []).append(entry)
    for alike in found.values():
        yield DistinctPart(alike[0], folded.parts[alike[0].key], len(alike))


def shown(book: Book, length: Number) -> str:
    """Return a length (mm) in the book's units, with the unit; ``≈`` where it was rounded.

    Inches to 1/32, millimetres to a tenth; what is less than that, but not nothing,
    is "less than 1/32 in".
    """
    exact = measured(length)
    least = _LEAST[book.units] * MM_PER_UNIT[book.units]
    if 0 < abs(exact.mm) < least:
        return f"less than {show(type(exact)(least), book.units, FINEST)}"
    return show(exact, book.units, FINEST)


def part_words(book: Book, key: str) -> str:
    """Return what a part is called in short, with its letter: "page 2 (C)".

    What belongs to a page and is not the page itself keeps its full name: "page 2: card 1 (D)".
    """
    entry = book.part(key)
    return owner(entry) if _PAGE.fullmatch(key) else f"{entry.title} ({entry.letter})"


def panel_words(book: Book, key: str, panel: str) -> str:
    """Return what a crafter calls a panel of a part: "hinge tab", "back", "tier 2"."""
    return _NUMBERED.sub(" ", join_words.panel_words(book.part(key).part, panel))


def line_words(book: Book, key: str, line: FoldKey) -> str:
    """Return where a line of a part is: "between the hinge tab and the channel"."""
    first, second = (panel_words(book, key, name) for name in (line.first, line.second))
    return f"between the {first} and the {second}"


def and_others(count: int) -> str:
    """Return how many more are alike, as the end of a message; nothing for one alone.

    >>> "the gap is 1/8 in" + and_others(3), "the gap is 1/8 in" + and_others(1)
    ('the gap is 1/8 in (and 2 more parts that are cut alike)', 'the gap is 1/8 in')
    """
    if count < 2:
        return ""
    more = "1 more part that is" if count == 2 else f"{count - 1} more parts that are"
    return f" (and {more} cut alike)"


def and_places(number: int) -> str:
    """Return in how many more places of a part it is so; nothing for one place.

    >>> "a strip is 1 mm wide" + and_places(3), and_places(2), and_places(1)
    ('a strip is 1 mm wide, and so in 2 more places', ', and so in 1 more place', '')
    """
    if number < 2:
        return ""
    return f", and so in {number - 1} more place{'s' if number > 2 else ''}"
