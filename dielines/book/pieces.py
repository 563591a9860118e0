"""One part of a book by itself: found by its letter, its key or its title."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from ..documents import suggestion
from ..errors import UsageError
from ..part import Part
from .book import Book, BookPart
from .words import spoken


@dataclass(frozen=True)
class Piece:
    """A part as it is drawn: *key* names it in files, *title* for people."""

    letter: str
    key: str
    title: str
    part: Part


def pieces_of(book: Book) -> tuple[Piece, ...]:
    """Return every part of one copy of *book*."""
    return tuple(piece_from(entry) for entry in book.parts)


def piece_named(book: Book, wanted: str) -> Piece:
    """Return the first of the parts that are cut like the one that *wanted* names; raises UsageError.

    Whoever asks for one of them gets the same files.
    """
    names: dict[str, str] = {}
    for entry in book.parts:
        for name in (entry.letter, entry.key, entry.title):
            names.setdefault(name, entry.letter)
    letter = letter_named(names, wanted)
    return piece_from(next(entry for entry in book.parts if entry.letter == letter))


def letter_named(names: dict[str, str], wanted: str) -> str:
    """Return the letter of what *wanted* says, as one says it; raises UsageError."""
    known = {spoken(name): letter for name, letter in names.items()}
    if spoken(wanted) not in known:
        hint = suggestion(spoken(wanted), known) or f"; there are {_listed(names.values())}"
        raise UsageError(f"no part is called {wanted[:60]!r}{hint}")
    return known[spoken(wanted)]


def _listed(letters: Iterable[str]) -> str:
    return ", ".join(dict.fromkeys(letters))


def piece_from(entry: BookPart) -> Piece:
    """Return a part of a book as it is drawn."""
    return Piece(entry.letter, entry.key, entry.title, entry.part)
