"""Books composed for the tape plan."""

from pathlib import Path

import pytest

from dielines.book.composing import compose
from dielines.book.from_file import book_source
from dielines.book.reading import book_document

ROOT = Path(__file__).parents[2]


@pytest.fixture(scope="session")
def composed(tmp_path_factory):
    """A composed book from its text, settings and the text of a workshop file."""
    folder = tmp_path_factory.mktemp("taped")

    def composed(text, *settings, workshop=""):
        (folder / "garden.toml").write_text(text, "utf-8")
        (folder / "own.toml").write_text(workshop, "utf-8")
        own = folder / "own.toml" if workshop else None
        source = book_source(book_document(folder / "garden.toml"), settings, own)
        return compose(source.request, source.workshop, source.library)

    return composed


@pytest.fixture(scope="session")
def sample():
    """A sample book by its name, composed."""

    def sample(name):
        source = book_source(book_document(ROOT / "samples" / name / f"{name}.toml"))
        return compose(source.request, source.workshop, source.library)

    return sample
