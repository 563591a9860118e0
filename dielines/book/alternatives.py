"""Other kinds of page that would fit the sheet where one does not."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace

from ..bindings.bound import Note
from ..bindings.pages import BoundPage
from ..language.library import Library
from ..language.template import Template
from ..lengths import ZERO
from ..workshop.workshop import Workshop
from .book import Book
from .request import PageRequest
from .sheets_fit import NO_SHEET, part_fit, size_fit

PageAlone = Callable[[PageRequest], BoundPage | None]


def kinds_that_fit(
    book: Book, workshop: Workshop, library: Library, page_alone: PageAlone
) -> Iterator[Note]:
    """Yield a note for each kind of page that fits no sheet: the kinds alike that would.

    Alike are kinds whose pockets open at the same sides. *page_alone* makes a
    page in the place of another, or None where that is impossible.
    """
    told: set[str] = set()
    for page in book.request.pages:
        entry = book.part(f"page-{page.number}")
        fit = part_fit(entry, workshop)
        if fit is None or fit.is_good or page.kind in told:
            continue
        told.add(page.kind)
        names = [
            other.words
            for other in _alike(library.find(page.kind), library)
            if _fits(replace(page, kind=other.name, given={}), page_alone, book, workshop)
        ]
        if names:
            text = f"a page of the kind {' or '.join(repr(name) for name in names)} would fit"
            yield Note(NO_SHEET, f"page {page.number}: {page.kind.replace('-', ' ')}", text)


def _alike(template: Template, library: Library) -> Iterator[Template]:
    sides = mouth_sides(template)
    for other in library.templates():
        is_page = other.kind == "page" and other.name != template.name
        if sides and is_page and mouth_sides(other) == sides:
            yield other


def mouth_sides(template: Template) -> frozenset[str]:
    """Return the sides at which the pockets of a page open, as its template says."""
    tables = [part.get("mouth", {}) for part in template.parts.values() if isinstance(part, dict)]
    return frozenset(
        side
        for table in tables
        if isinstance(table, dict)
        for side in table.values()
        if isinstance(side, str)
    )


def _fits(page: PageRequest, page_alone: PageAlone, book: Book, workshop: Workshop) -> bool:
    """Return whether all parts of a page fit, its channel wider by what would stand in it."""
    bound = page_alone(page)
    if bound is None:
        return False
    stock, stands = book.stocks["pages"], bound.body.room(bound.half)
    return all(
        size_fit(entry.part, stock, workshop, stands if entry.part.bound else ZERO)
        for entry in bound.parts
        if entry.role == "pages"
    )
