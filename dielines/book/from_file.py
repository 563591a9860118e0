"""A book file with all that it leans on: the templates beside it and the workshop."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path as FilePath

from ..bindings.registry import bindings
from ..documents import Document
from ..language.library import BUILT_IN, Library, library_beside
from ..workshop.loading import load_workshop
from ..workshop.workshop import Workshop
from .reading import read_request
from .request import BookRequest
from .settings import with_settings
from .words import Words

#: Folders of built-in templates that hold no page; to read them takes longer than the rest.
_NO_PAGES = frozenset(BUILT_IN / name for name in ("bindings", "case", "inserts"))


@dataclass(frozen=True)
class BookSource:
    """What ``compose`` takes: what the book asks for, the workshop, and the templates."""

    request: BookRequest
    workshop: Workshop
    library: Library


def book_source(
    document: Document,
    settings: Sequence[str] = (),
    workshop_file: FilePath | None = None,
    rules: Collection[str] | None = None,
) -> BookSource:
    """Return what the book in *document* asks for, with *settings* (KEY=VALUE) in its place.

    *rules* are the checks that it may ignore; None takes any name.

    Raises BookError with all faults of the book or of the workshop file,
    TemplateError for a faulty template beside the book.
    """
    path = FilePath(document.name)
    library = library_beside(path.parent)
    words = Words(page_kinds(library), list(bindings()), rules=rules)
    request = read_request(with_settings(document, settings) if settings else document, words)
    request.document.settle()
    return BookSource(request, load_workshop(workshop_file, path, request.units), library)


def page_kinds(library: Library) -> Mapping[str, Collection[str]]:
    """Return the templates that are pages, each with the names of its parameters."""
    return dict(_page_kinds(library))


def _page_kinds(library: Library) -> Iterator[tuple[str, Collection[str]]]:
    for name, path in library.files:
        if path.parent in _NO_PAGES:
            continue
        template = library.find(name)
        if template.kind == "page":
            yield template.name, [parameter.name for parameter in template.parameters]
