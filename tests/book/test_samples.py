"""The sample books: each is made without a fault, and reads back the same from every kind of file."""

from pathlib import Path

import pytest

from dielines.book.composing import compose
from dielines.book.from_file import book_source
from dielines.book.outputs import parts_in_rows
from dielines.book.pieces import pieces_of
from dielines.book.reading import book_document
from dielines.formats.choices import Choices
from dielines.formats.kinds import formats
from dielines.formats.proving import proved

SAMPLES = sorted((Path(__file__).parents[2] / "samples").glob("*/*.toml"))
BOOKS = [path for path in SAMPLES if path.stem == path.parent.name]
TOLERANCE = 0.001  # mm, what is promised of every file


def composed(path: Path):
    source = book_source(book_document(path))
    return compose(source.request, source.workshop, source.library)


def test_there_are_three_samples_at_least_in_inches_and_in_millimetres_and_of_both_bindings():
    books = [composed(path) for path in BOOKS]
    assert len(books) >= 3
    assert {book.units for book in books} == {"in", "mm"}
    assert {book.request.binding for book in books} == {"tab and channel", "concertina spine"}


@pytest.mark.parametrize("path", BOOKS, ids=lambda path: path.stem)
@pytest.mark.parametrize("version", ["R12", "R2000"])
def test_a_sample_reads_back_as_it_was_drawn(path, version):
    book = composed(path)
    drawing = parts_in_rows(pieces_of(book), book.title)
    for kind in formats():
        file = proved(f"{path.stem}{kind.suffix}", drawing, kind, Choices(dxf_version=version))
        assert file.paths == len(drawing.items())
        assert file.deviation <= TOLERANCE


@pytest.mark.parametrize("path", BOOKS, ids=lambda path: path.stem)
def test_every_part_of_a_sample_fits_a_sheet_of_its_stock(path):
    assert [note for note in composed(path).notes if note.code == "no-sheet"] == []
