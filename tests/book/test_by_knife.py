"""Stock that is too thick for the machine is told."""

from pathlib import Path

import pytest

from dielines.book.composing import compose
from dielines.book.from_file import book_source
from dielines.book.reading import book_document

BOOK = """units = "mm"
size = "photo 100 x 71"
binding = "tab and channel"
pages = ["2 x plain leaf"]
"""


@pytest.mark.parametrize(("thickest", "told"), [("0.6 mm", ["grey board"]), ("3 mm", [])])
def test_boards_that_the_machine_does_not_take_are_cut_by_knife(tmp_path: Path, thickest, told):
    (tmp_path / "book.toml").write_text(BOOK, encoding="utf-8")
    machine = f'units = "mm"\n[machine]\nthickest = "{thickest}"\n'
    (tmp_path / "workshop.toml").write_text(machine, encoding="utf-8")
    source = book_source(book_document(tmp_path / "book.toml"))
    book = compose(source.request, source.workshop, source.library)
    assert [note.subject for note in book.notes if note.code == "by-knife"] == told
