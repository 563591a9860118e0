"""The sizes of single pages beside those of the whole book, so that one can ask for any."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction

from ..lengths import Length
from ..sizes.reasons import SOURCES, Reason, Reasons
from ..sizes.usual import Origin
from .book import Book
from .request import PageRequest


def reasons_with_pages(book: Book) -> Reasons:
    """Return the reasons of *book* and the sizes that each page's template was given.

    They are called ``page_3.flap``.
    """
    more = {reason.name: reason for page in book.request.pages for reason in _of_page(book, page)}
    return replace(book.reasons, by_name={**more, **book.reasons.by_name})


def _of_page(book: Book, page: PageRequest) -> Iterator[Reason]:
    part = book.part(f"page-{page.number}").part
    rule = f"as a rule for {page.kind.replace('-', ' ')}"
    for name, value in part.parameters.items():
        if isinstance(value, Length | Fraction):
            source = SOURCES[Origin.BOOK] if name in page.given else rule
            yield Reason(f"page_{page.number}.{name}", value, source=source)
