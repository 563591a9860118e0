"""The files of a book, and of one part of it made again, as bytes by file name."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from ..drawing import Drawing, in_floats
from ..formats.proving import ProvedFile
from ..lengths import Length
from ..machine_files import guide_files, proved_files
from ..part import Part
from ..part_drawing import part_group, rows_drawing
from ..sizes.exact import millimetres_text, mixed_words
from ..sizes.sizes_file import sizes_text
from ..workshop.machine import Machine
from .book import Book, BookPart
from .captions import with_names
from .cut_list_text import cut_list_text
from .pieces import Piece, piece_from, pieces_of
from .recipes import SIZES, made_of, recipes

CUT_LIST = "cut-list.txt"

__all__ = [
    "CUT_LIST", "SIZES", "Outputs", "book_files", "making_words", "parts_in_rows", "piece_files",
    "single_files",
]  # fmt: skip


@dataclass(frozen=True)
class Outputs:
    """What is written: drawings that read back as they should, and texts."""

    drawings: tuple[ProvedFile, ...]
    texts: Mapping[str, bytes]

    @property
    def contents(self) -> dict[str, bytes]:
        """All files by name."""
        return {**{file.name: file.content for file in self.drawings}, **self.texts}

    @property
    def deviation(self) -> float:
        """The largest deviation found on re-reading, mm."""
        return max((file.deviation for file in self.drawings), default=0.0)


def book_files(name: str, book: Book, machine: Machine) -> Outputs:
    """Return the guides of one copy of *book*, called *name*, and its lists; raises Defect.

    What a machine cuts is laid out on sheets elsewhere.
    """
    drawing = parts_in_rows(pieces_of(book), book.title)
    texts = {
        CUT_LIST: cut_list_text(book, machine),
        SIZES: sizes_text(book.title, book.reasons, recipes(book.parts), made_of(name, book)),
    }
    encoded = {file: text.encode() for file, text in texts.items()}
    return Outputs(tuple(guide_files(name, in_floats(drawing))), encoded)


def piece_files(name: str, piece: Piece, machine: Machine) -> Outputs:
    """Return the files of one part of the book called *name*, made by itself; raises Defect."""
    drawing = parts_in_rows([piece], f"{piece.letter} {piece.title}")
    return Outputs(proved_files(f"{name}.{piece.letter}", drawing, machine), {})


def single_files(name: str, parts: Sequence[BookPart], machine: Machine) -> Outputs:
    """Return the files of the parts of one template, which is called *name*; raises Defect."""
    drawing = parts_in_rows([piece_from(entry) for entry in parts], name.replace("-", " "))
    return Outputs(proved_files(name, drawing, machine), {})


def parts_in_rows(pieces: Sequence[Piece], title: str) -> Drawing:
    """Return the drawing of *pieces* with their names, and how each was made."""
    groups = [
        with_names(part_group(piece.part, piece.key, piece.title), piece.part, piece.letter)
        for piece in pieces
    ]
    made = {p.letter: making_words(p.part) for p in pieces if p.part.parameters}
    return rows_drawing(groups, title, metadata=tuple(made.items()))


def making_words(part: Part) -> str:
    """Return which templates made *part*, their versions and what they were given."""
    words = _template_words(part.template, part.version, part.parameters)
    if part.graft is None:
        return words
    graft = part.graft
    return f"{words}; {_template_words(graft.template, graft.version, graft.parameters)}"


def _template_words(template: str, version: int, parameters: Mapping[str, object]) -> str:
    given = ", ".join(f"{name}={_setting(value)}" for name, value in parameters.items())
    return f"{template} {version} ({given})"


def _setting(value: object) -> str:
    if isinstance(value, Length):
        return millimetres_text(value)
    if isinstance(value, bool):
        return "yes" if value else "no"
    return mixed_words(value) if isinstance(value, Fraction) else str(value)
