"""A composed book: all its parts, how they are joined, and why each size is what it is."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from ..bindings.bound import Join, Note
from ..lengths import Unit
from ..part import Part
from ..sizes.reasons import Reasons
from ..workshop.stock import Stock
from ..workshop.tape import Tape
from .request import BookRequest


@dataclass(frozen=True)
class BookPart:
    """One part of a book.

    *key* names it in files, *title* for people. Parts that are cut alike from
    the same stock share their *letter*; left and right, mirrored, do not.
    """

    key: str
    title: str
    letter: str
    part: Part
    role: str
    stock: Stock
    note: str = ""


@dataclass(frozen=True)
class Book:
    """The whole: what is cut, what is joined to what, in which order, and why.

    *parts* are those of one copy, each as often as it is needed.
    """

    request: BookRequest
    parts: tuple[BookPart, ...]
    joins: tuple[Join, ...]
    reasons: Reasons
    notes: tuple[Note, ...]
    stocks: Mapping[str, Stock]
    tape: Tape

    @property
    def title(self) -> str:
        """The title of the book."""
        return self.request.title

    @property
    def units(self) -> Unit:
        """The unit in which its maker reads sizes."""
        return self.request.units

    def part(self, key: str) -> BookPart:
        """Return the part with this key; raises KeyError."""
        for entry in self.parts:
            if entry.key == key:
                return entry
        raise KeyError(key)
