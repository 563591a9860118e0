"""The files of all sheets of a book, added to those that it has already."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from ..book.book import Book
from ..book.outputs import Outputs, making_words
from ..drawing import Drawing, Layer, in_floats
from ..formats.choices import Choices, Reader
from ..formats.look import with_true_size
from ..formats.proving import ProvedFile
from ..machine_files import sheet_files
from ..part import Side
from ..workshop.machine import Machine
from ..workshop.sizes import Size
from ..workshop.workshop import Workshop
from .cutting_by_hand import CUTTING_BY_HAND, cutting_by_hand_text, is_cut_by_hand
from .layout import BookLayout, SheetLayout, StockLayout
from .sheet_drawing import bare_drawing, labelled_drawing, sheet_drawing
from .sheets_text import WORDS, sheets_text, times_words
from .way_of_cutting import By

SHEETS = "sheets.txt"


def with_sheets(
    name: str, outputs: Outputs, book: Book, layout: BookLayout, workshop: Workshop
) -> Outputs:
    """Return *outputs* with the files of every different sheet; raises Defect.

    Those are cut files for the machine where it cuts the stock, all sheets at true size
    in one PDF, and in words what lies on each and how it is cut by hand.
    """
    from ..formats.pdf import proved_pages

    drawings = (*outputs.drawings, *_cut_files(name, book, layout, workshop))
    texts: dict[str, bytes] = {**outputs.texts}
    texts[SHEETS] = sheets_text(book, layout, workshop).encode()
    if is_cut_by_hand(layout):
        texts[CUTTING_BY_HAND] = cutting_by_hand_text(book, layout, workshop).encode()
    pages = [page(book, stock, sheet) for stock, sheet in layout.sheets()]
    if pages:
        pdf = f"{name}.sheets.pdf"
        texts[pdf] = proved_pages(pdf, pages, Choices(reader=Reader.PEOPLE))
    return replace(outputs, drawings=drawings, texts=texts)


def with_prints(
    name: str, outputs: Outputs, book: Book, layout: BookLayout, paper: Size
) -> Outputs:
    """Return *outputs* with all sheets at true size on pages of *paper*, to be joined.

    Raises UsageError for a paper without room, and for too many pages.
    """
    from ..formats.pdf import proved_pages
    from ..formats.tiling import tiled_either_way

    size = float(paper.across.mm), float(paper.up.mm)
    pages = [
        tile
        for stock, sheet in layout.sheets()
        for tile in tiled_either_way(page(book, stock, sheet), size)
    ]
    if not pages:
        return outputs
    pdf = f"{name}.sheets-to-join.pdf"
    content = proved_pages(pdf, pages, Choices(reader=Reader.PEOPLE))
    return replace(outputs, texts={**outputs.texts, pdf: content})


def _cut_files(
    name: str, book: Book, layout: BookLayout, workshop: Workshop
) -> Iterator[ProvedFile]:
    for stock, sheet in layout.sheets():
        if stock.terms.by is By.MACHINE:
            drawing = _told(_worked(sheet, _title(book, stock, sheet), workshop.machine), sheet)
            yield from sheet_files(f"{name}.sheet-{sheet.number}", drawing, workshop.machine)


def _worked(sheet: SheetLayout, title: str, machine: Machine) -> Drawing:
    """Return the drawing of what *machine* works on, with words only where it writes them."""
    if Layer.LABEL.value in machine.cut_layers:
        return labelled_drawing(sheet, title, Side(machine.side_up))
    return bare_drawing(sheet, title)


def page(book: Book, stock: StockLayout, sheet: SheetLayout) -> Drawing:
    """Return the page of a sheet to print, as large as the sheet."""
    drawing = _told(sheet_drawing(sheet, _title(book, stock, sheet)), sheet)
    return with_true_size(in_floats(drawing))


def _title(book: Book, stock: StockLayout, sheet: SheetLayout) -> str:
    words = f"{stock.stock.name}, {WORDS[stock.terms.by]}, {times_words(sheet.times)}"
    return f"{book.title}: sheet {sheet.number}, {words}"


def _told(drawing: Drawing, sheet: SheetLayout) -> Drawing:
    """Return *drawing* with how each of its parts was made."""
    made = {one.letter: making_words(one.part) for one in sheet.placed if one.part.parameters}
    return replace(drawing, metadata=tuple(sorted(made.items())))
