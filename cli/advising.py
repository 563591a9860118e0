"""Advice on paper economy for a book: what would save a sheet, and still hold."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from .interrupting import Cutting, wish_called
from .output import stage

if TYPE_CHECKING:
    from dielines.folding.folded_book import FoldedBook
    from dielines.sheets.again import AsCut
    from dielines.sheets.economy import Saving
    from dielines.sheets.forcing import Forcing
    from dielines.sheets.layout import BookLayout, StockLayout
    from dielines.sheets.other_sheets import OtherSheet

Forced = list[tuple["StockLayout", "Forcing"]]


def advice(
    file: Path, settings: Sequence[str], folded: FoldedBook, layout: BookLayout, cutting: Cutting
) -> tuple[tuple[Saving, ...], Forced, tuple[OtherSheet, ...]]:
    """Return what would save sheets of the book in *file*, which parts force the last ones, other sheets."""
    from dielines.book.reading import book_document
    from dielines.sheets.again import AsCut
    from dielines.sheets.economy import savings
    from dielines.sheets.forcing import forcing_parts
    from dielines.sheets.other_sheets import other_sheets

    stage("Trying small changes")
    book = folded.book
    cut = AsCut(book, folded.workshop, wish_called(cutting.by), cutting.gap)
    found = savings(book_document(file), settings, cut, layout, is_sound)
    forced = list(forcing_parts(layout.stocks, book.units))
    return found, forced, other_sheets(layout, book.units)


def is_sound(changed: AsCut) -> bool:
    """Return whether the checks find no error in a changed book."""
    from dielines.checks.checking import check_book
    from dielines.folding.folded_book import FoldedBook

    return check_book(FoldedBook(changed.book, changed.workshop)).holds
