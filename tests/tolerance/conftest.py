"""Books of pockets and flaps whose drift and play were worked out beforehand."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from thick_books import composed, mixed_book, without_reinforcement

from dielines.book.from_file import book_source
from dielines.book.reading import book_document
from dielines.folding.folded_book import FoldedBook


@pytest.fixture(scope="session")
def book_of(tmp_path_factory) -> Callable[..., FoldedBook]:
    """A folded book of the worked examples' materials, from its text and settings."""
    kept: dict[tuple[str, ...], FoldedBook] = {}

    def made(text: str, *settings: str) -> FoldedBook:
        if (text, *settings) not in kept:
            kept[text, *settings] = composed(tmp_path_factory.mktemp("hand"), text, *settings)
        return kept[text, *settings]

    return made


@pytest.fixture(scope="session")
def mixed(book_of) -> Callable[..., FoldedBook]:
    """Pockets and flaps in turn, without reinforcement, with a spine of this width (mm)."""
    kept: dict[tuple[int, float], FoldedBook] = {}

    def made(count: int, spine: float) -> FoldedBook:
        if (count, spine) not in kept:
            book = book_of(mixed_book(count), f"spine.width={spine} mm")
            kept[count, spine] = without_reinforcement(book)
        return kept[count, spine]

    return made


@pytest.fixture(scope="session")
def four(mixed) -> FoldedBook:
    return mixed(4, 34.925)


@pytest.fixture(scope="session")
def twenty_four(mixed) -> FoldedBook:
    return mixed(24, 161.925)


@pytest.fixture(scope="session")
def sources_of(tmp_path_factory):
    """What a small book asks for, with settings."""
    file = tmp_path_factory.mktemp("settings") / "book.toml"
    file.write_text(
        'title = "S"\nunits = "mm"\nsize = "photo 90 x 130"\nbinding = "tab and channel"\n'
        'pages = ["flap", "plain leaf"]\n',
        "utf-8",
    )
    return lambda *settings: book_source(book_document(file), settings)
