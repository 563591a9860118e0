"""Inserted blocks are taken apart, and never without end."""

import io
import math

import ezdxf
import pytest

from dielines.drawing import Layer
from dielines.errors import ForeignFileError
from dielines.formats.dxf import blocks
from dielines.formats.dxf.reading import read_dxf
from dielines.paths import bounds_of


@pytest.fixture
def sheet():
    document = ezdxf.new("R2000", units=4)
    block = document.blocks.new("notch")
    block.add_line((0, 0), (3, 0), dxfattribs={"layer": "0"})
    block.add_arc((0, 0), 3, 0, 90, dxfattribs={"layer": "SCORE_VALLEY"})
    return document


def reading(sheet):
    stream = io.StringIO()
    sheet.write(stream)
    return read_dxf(stream.getvalue().encode(), "foreign.dxf")


def insert(sheet, *at, **attributes):
    return sheet.modelspace().add_blockref("notch", at, dxfattribs={"layer": "CUT", **attributes})


def test_a_block_is_drawn_where_it_is_inserted_turned_and_scaled(sheet):
    insert(sheet, 100 / 3, 7, rotation=90, xscale=2, yscale=2)
    line, arc = (item.path for item in reading(sheet).drawing.items())
    assert line.vertices[0].point == pytest.approx((100 / 3, 7))
    assert line.vertices[1].point == pytest.approx((100 / 3, 13))
    assert tuple(bounds_of([arc])) == pytest.approx((100 / 3 - 6, 7, 100 / 3, 13))
    assert arc.vertices[0].bulge == pytest.approx(math.tan(math.pi / 8))


def test_a_mirrored_block_turns_its_arcs_over(sheet):
    insert(sheet, 10, 0, xscale=-1)
    _, arc = (item.path for item in reading(sheet).drawing.items())
    assert tuple(bounds_of([arc])) == pytest.approx((7, 0, 10, 3))


def test_layer_0_of_a_block_is_the_layer_of_its_insertion(sheet):
    insert(sheet, 0, 0)
    assert [item.layer for item in reading(sheet).drawing.items()] == [
        Layer.CUT,
        Layer.SCORE_VALLEY,
    ]


def test_blocks_within_blocks_hand_the_layer_down(sheet):
    outer = sheet.blocks.new("outer")
    outer.add_blockref("notch", (5, 0), dxfattribs={"layer": "0"})
    sheet.modelspace().add_blockref("outer", (100, 0), dxfattribs={"layer": "PERFORATE"})
    line, _ = reading(sheet).drawing.items()
    assert (line.layer, line.path.vertices[0].point) == (Layer.PERFORATE, (105, 0))


def test_rows_and_columns_of_a_block_are_all_there(sheet):
    insert(sheet, 0, 0, row_count=2, column_count=3, row_spacing=20, column_spacing=10)
    starts = {
        item.path.vertices[0].point
        for item in reading(sheet).drawing.items()
        if item.layer is Layer.CUT
    }
    assert starts == {(x, y) for x in (0, 10, 20) for y in (0, 20)}


def test_a_block_that_holds_itself_is_refused(sheet):
    sheet.blocks.get("notch").add_blockref("notch", (1, 1))
    insert(sheet, 0, 0)
    with pytest.raises(ForeignFileError) as caught:
        reading(sheet)
    assert caught.value.faults[0].code in ("too-deep", "damaged")


def test_blocks_as_deep_as_allowed_are_read_and_deeper_ones_refused(sheet):
    for depth in range(1, 20):
        sheet.blocks.new(f"b{depth}").add_blockref(
            "notch" if depth == 1 else f"b{depth - 1}", (1, 0)
        )
    sheet.modelspace().add_blockref(f"b{blocks.MAX_DEPTH - 1}", (0, 0))
    assert len(reading(sheet).drawing.items()) == 2
    sheet.modelspace().add_blockref(f"b{blocks.MAX_DEPTH}", (0, 0))
    with pytest.raises(ForeignFileError) as caught:
        reading(sheet)
    assert [fault.code for fault in caught.value.faults] == ["too-deep"]


def test_blocks_that_multiply_are_refused_before_they_fill_the_machine(sheet, monkeypatch):
    monkeypatch.setattr(blocks, "MAX_ENTITIES", 3000)
    for depth in range(1, 12):
        block = sheet.blocks.new(f"b{depth}")
        for _ in range(10):
            block.add_blockref("notch" if depth == 1 else f"b{depth - 1}", (1, 0))
    sheet.modelspace().add_blockref("b11", (0, 0))
    with pytest.raises(ForeignFileError) as caught:
        reading(sheet)
    assert [fault.code for fault in caught.value.faults] == ["too-many"]


def test_an_empty_block_in_a_million_copies_is_refused(sheet, monkeypatch):
    monkeypatch.setattr(blocks, "MAX_ENTITIES", 3000)
    sheet.blocks.new("empty")
    attributes = {"row_count": 30000, "column_count": 30000, "row_spacing": 1, "column_spacing": 1}
    sheet.modelspace().add_blockref("empty", (0, 0), dxfattribs=attributes)
    with pytest.raises(ForeignFileError) as caught:
        reading(sheet)
    assert [fault.code for fault in caught.value.faults] == ["too-many"]


def test_a_large_block_in_many_places_is_refused(sheet, monkeypatch):
    monkeypatch.setattr(blocks, "MAX_ENTITIES", 300)
    insert(sheet, 0, 0, row_count=10, column_count=10, row_spacing=9, column_spacing=9)
    assert len(reading(sheet).drawing.items()) == 200  # and 100 copies
    monkeypatch.setattr(blocks, "MAX_ENTITIES", 299)
    with pytest.raises(ForeignFileError) as caught:
        reading(sheet)
    assert [fault.code for fault in caught.value.faults] == ["too-many"]
