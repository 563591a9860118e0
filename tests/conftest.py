"""Books composed from text in the typical workshop, for all tests that need one."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path as FilePath

import pytest

from dielines.bindings.registry import bindings
from dielines.book.book import Book
from dielines.book.composing import compose
from dielines.book.reading import read_request
from dielines.book.words import Words
from dielines.documents import parse_document
from dielines.errors import BookError
from dielines.language.library import Library, built_in_library, library_beside
from dielines.workshop.loading import load_workshop


def composed(text: str, library: Library, beside: FilePath) -> Book:
    """Return the book that *text* asks for, made in the typical workshop."""
    kinds = {
        t.name: [p.name for p in t.parameters] for t in library.templates() if t.kind == "page"
    }
    document = parse_document("garden.toml", text, BookError)
    request = read_request(document, Words(kinds, list(bindings())))
    return compose(request, load_workshop(None, beside / "garden.toml", request.units), library)


@pytest.fixture(scope="session")
def library() -> Library:
    return built_in_library()


@pytest.fixture(scope="session")
def book_of(library, tmp_path_factory) -> Callable[[str], Book]:
    """A book from the text of its file; the same text is composed once."""
    beside = tmp_path_factory.mktemp("books")
    made: dict[str, Book] = {}

    def book(text: str) -> Book:
        if text not in made:
            made[text] = composed(text, library, beside)
        return made[text]

    return book


@pytest.fixture(scope="session")
def compose_anew(library, tmp_path_factory) -> Callable[[str], Book]:
    """A book composed each time it is asked for."""
    beside = tmp_path_factory.mktemp("anew")
    return lambda text: composed(text, library, beside)


@pytest.fixture
def book_beside(tmp_path) -> Callable[..., Book]:
    """A book from its text, with a person's own templates (name -> text) beside it."""

    def book(text: str, **templates: str) -> Book:
        for name, template in templates.items():
            (tmp_path / f"{name.replace('_', '-')}.toml").write_text(template, "utf-8")
        return composed(text, library_beside(tmp_path), tmp_path)

    return book
