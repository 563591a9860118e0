"""Advice on paper economy for a book: what would save a sheet, and still hold."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from .interrupting import Cutting, wish_called
from .output import stage

if TYPE_CHECKING:
    from dielines.book.book import Book
    from dielines.folding.folded_book import FoldedBook
    from dielines.sheets.economy import Saving
    from dielines.sheets.forcing import Forcing
    from dielines.sheets.layout import BookLayout, StockLayout
    from dielines.workshop.workshop import Workshop

Forced = list[tuple["StockLayout", "Forcing"]]


def advice(
    file: Path, settings: Sequence[str], folded: FoldedBook, layout: BookLayout, cutting: Cutting
) -> tuple[tuple[Saving, ...], Forced]:
    """Return what would save sheets of the book in *file*, and the parts that force the last ones."""
    from dielines.book.reading import book_document
    from dielines.sheets.economy import Cut, savings
    from dielines.sheets.forcing import forcing_parts

    stage("Trying small changes")
    cut = Cut(folded.book, folded.workshop, wish_called(cutting.by), cutting.gap)
    found = savings(book_document(file), settings, cut, layout, is_sound)
    return found, list(forcing_parts(layout.stocks, folded.book.units))


def is_sound(book: Book, workshop: Workshop) -> bool:
    """Return whether the checks find no error in *book*."""
    from dielines.checks.checking import check_book
    from dielines.folding.folded_book import FoldedBook

    return check_book(FoldedBook(book, workshop)).holds
