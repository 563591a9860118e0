"""Words and sizes for what rules say of corners."""

from __future__ import annotations

from ..book.book import Book
from ..folding.case_places import BOARDS
from ..part import Side
from .strip_corners import StripCorner


def thickest_board(book: Book) -> float:
    """Return the thickness of the thickest board, mm; 0 for a book without boards."""
    return max((float(e.stock.caliper.mm) for e in book.parts if e.role == BOARDS), default=0.0)


def corner_words(corner: StripCorner) -> str:
    """Return which corner of which board it is."""
    edges = sorted((corner.first.edge.name, corner.second.edge.name), key=_rank)
    return f"of {edges[0]} and {edges[1]} of the {corner.board.entry.title}"


def _rank(edge: str) -> int:
    return ("head", "tail").index(edge) if edge in ("head", "tail") else 2


def side_words(side: Side) -> str:
    """Return on which side of a board something lies, with its preposition."""
    return "outside at" if side is Side.FACE else "inside at"
