"""Correct books, folded once for all tests of the rules."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from dielines.book.composing import compose
from dielines.book.from_file import BookSource, book_source
from dielines.book.reading import book_document
from dielines.folding.folded_book import FoldedBook

ROOT = Path(__file__).parents[2]
SAMPLES = ("lakeside", "seed-swap", "first-year")


@pytest.fixture(scope="session")
def sources(tmp_path_factory) -> Callable[..., BookSource]:
    """What a book asks for, from its text and settings (KEY=VALUE), in the typical workshop."""
    folder = tmp_path_factory.mktemp("books")

    def source(text: str, *settings: str, workshop: str = "") -> BookSource:
        file = folder / "garden.toml"
        file.write_text(text, "utf-8")
        (folder / "own.toml").write_text(workshop, "utf-8")
        return book_source(book_document(file), settings, folder / "own.toml" if workshop else None)

    return source


@pytest.fixture(scope="session")
def folded_of(sources) -> Callable[..., FoldedBook]:
    """A folded book from its text, settings and, where it matters, the text of a workshop file."""
    kept: dict[tuple[str, ...], FoldedBook] = {}

    def folded(text: str, *settings: str, workshop: str = "") -> FoldedBook:
        wanted = (text, *settings, workshop)
        if wanted not in kept:
            source = sources(text, *settings, workshop=workshop)
            book = compose(source.request, source.workshop, source.library)
            kept[wanted] = FoldedBook(book, source.workshop)
        return kept[wanted]

    return folded


@pytest.fixture(scope="session")
def samples() -> dict[str, FoldedBook]:
    """The sample books of the project, by name."""
    found = {}
    for name in SAMPLES:
        file = ROOT / "samples" / name / f"{name}.toml"
        source = book_source(book_document(file))
        book = compose(source.request, source.workshop, source.library)
        found[name] = FoldedBook(book, source.workshop)
    return found
