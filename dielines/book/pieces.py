"""One part of a book by itself: found by its letter, its key or its title."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from textwrap import wrap

from ..documents import suggestion
from ..errors import UsageError
from ..part import Part
from .book import Book, BookPart
from .cut_list import merged_titles
from .words import spoken

_WIDTH = 98


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


def letter_named(names: Mapping[str, str], wanted: str) -> str:
    """Return the letter of what *wanted* says, as one says it.

    Raises UsageError with the letters and names that there are: those with *wanted*
    in their names, or all.
    """
    known = {spoken(name): letter for name, letter in names.items()}
    if spoken(wanted) in known:
        return known[spoken(wanted)]
    titles: dict[str, list[str]] = {}
    for name, letter in names.items():
        if name != letter:
            titles.setdefault(letter, []).append(name)
    near = {letter: told for letter, told in titles.items() if _says(told, wanted)}
    hint = "" if near else suggestion(spoken(wanted), known)
    lines = [f"no part is called {wanted[:60]!r}{hint or '. There are:'}"]
    raise UsageError("\n".join([*lines, *_listed(near or titles)]))


def _says(names: Iterable[str], wanted: str) -> bool:
    words = spoken(wanted)
    return bool(words) and any(words in spoken(name) for name in names)


def _listed(titles: Mapping[str, Sequence[str]]) -> Iterator[str]:
    """Yield each letter with the names of its parts; a key is left out beside its title."""
    for letter, names in titles.items():
        spaced = [name for name in names if " " in name] or names
        yield from wrap(
            f"{letter:<4}{'; '.join(merged_titles(spaced))}",
            _WIDTH,
            initial_indent="  ",
            subsequent_indent=" " * 6,
        )


def piece_from(entry: BookPart) -> Piece:
    """Return a part of a book as it is drawn."""
    return Piece(entry.letter, entry.key, entry.title, entry.part)
