"""Other kinds of page that would fit the sheet where one does not."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace

from ..bindings.bound import Bound, Note
from ..language.library import Library
from ..language.template import Template
from ..workshop.workshop import Workshop
from .book import Book
from .request import PageRequest
from .sheets_fit import NO_SHEET, part_fit, size_fit

BoundWith = Callable[[PageRequest], Bound | None]


def kinds_that_fit(
    book: Book, workshop: Workshop, library: Library, bound_with: BoundWith
) -> Iterator[Note]:
    """Yield a note for each kind of page that fits no sheet: the kinds alike that would.

    Alike are kinds whose pockets open at the same sides. *bound_with* binds the
    book again with one page in the place of another.
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
            if _fits(replace(page, kind=other.name, given={}), bound_with, book, workshop)
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


def _fits(page: PageRequest, bound_with: BoundWith, book: Book, workshop: Workshop) -> bool:
    bound = bound_with(page)
    if bound is None:
        return False
    entries = [
        e for e in bound.parts if e.key.startswith(f"page-{page.number}") and e.role == "pages"
    ]
    return all(size_fit(entry.part, book.stocks["pages"], workshop) for entry in entries)
