from pathlib import Path

import pytest

from dielines.book.composing import compose
from dielines.book.from_file import book_source
from dielines.book.reading import book_document

SAMPLES = Path(__file__).parents[2] / "samples"


@pytest.fixture(scope="session")
def sample():
    """Return a function that composes a sample: (book, workshop)."""
    made = {}

    def composed(name, *settings):
        if (name, settings) not in made:
            document = book_document(SAMPLES / name / f"{name}.toml")
            source = book_source(document, settings)
            made[name, settings] = (
                compose(source.request, source.workshop, source.library),
                source.workshop,
            )
        return made[name, settings]

    return composed
