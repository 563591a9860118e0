"""Every sheet of every sample, replayed path by path from its files."""

from functools import cache
from pathlib import Path

import pytest
from cutting_judge import lifted_travel, lost_or_added, wrong_in_order

from dielines.book.composing import compose
from dielines.book.from_file import book_source
from dielines.book.reading import book_document
from dielines.cutting.in_cutting_order import in_cutting_order
from dielines.cutting.precedence import SIZES
from dielines.drawing import Layer, in_floats
from dielines.formats.kinds import read_file
from dielines.machine_files import sheet_files
from dielines.sheets.laying_out import lay_out
from dielines.sheets.sheet_drawing import sheet_drawing
from dielines.sheets.way_of_cutting import By

SAMPLES = Path(__file__).parents[2] / "samples"
NAMES = sorted(folder.name for folder in SAMPLES.iterdir() if folder.is_dir())
SAMPLE = pytest.mark.parametrize("name", NAMES)


@cache
def sheets_of(name):
    """Return the machine of a sample, and its sheets as they are laid out."""
    source = book_source(book_document(SAMPLES / name / f"{name}.toml"), ())
    book = compose(source.request, source.workshop, source.library)
    layout = lay_out(book, source.workshop, By.MACHINE)
    drawings = [in_floats(sheet_drawing(sheet, name)) for _, sheet in layout.sheets()]
    return source.workshop.machine, drawings


@SAMPLE
def test_sheets_are_worked_from_the_inside_out_with_half_the_travel(name):
    _, drawings = sheets_of(name)
    ordered = [in_cutting_order(drawing) for drawing in drawings]
    assert len(ordered) > 3
    for drawing, sheet in zip(drawings, ordered, strict=True):
        assert wrong_in_order(sheet, SIZES) == []
        assert not lost_or_added(drawing, sheet)
    as_drawn, in_order = (sum(map(lifted_travel, each)) for each in (drawings, ordered))
    assert in_order < as_drawn / 2


@SAMPLE
def test_files_of_sheets_are_in_that_order(name, tmp_path):
    machine, drawings = sheets_of(name)
    for number, drawing in enumerate(drawings[:5]):
        files = sheet_files(f"sheet{number}", drawing, machine)
        assert files
        for file in files:
            place = tmp_path / file.name
            place.write_bytes(file.content)
            read = read_file(place).drawing
            assert wrong_in_order(read, SIZES) == []
            cuts = [item for item in read.items() if item.layer is Layer.CUT]
            assert len(cuts) == sum(item.layer is Layer.CUT for item in drawing.items())
