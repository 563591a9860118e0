"""What is written reads back: geometry within a millionth of a millimetre, texts to the letter."""

import io
import math
from dataclasses import replace

import ezdxf
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from dielines.drawing import Drawing, Group, Item, Layer
from dielines.formats.choices import Grouping
from dielines.formats.compare import compare
from dielines.formats.dxf.options import Curves, DxfOptions, Version
from dielines.formats.dxf.reading import read_dxf
from dielines.formats.dxf.writing import write_dxf
from dielines.formats.look import look, with_true_size
from dielines.paths import Path, Vertex

TOLERANCE = 1e-6  # mm


def back(drawing, options):
    return read_dxf(write_dxf(drawing, options).encode("ascii"), "back.dxf")


@pytest.mark.parametrize("unit", ["mm", "in"])
@pytest.mark.parametrize("version", Version)
@pytest.mark.parametrize("grouping", Grouping)
def test_a_sheet_reads_back_whole(page, version, unit, grouping):
    reading = back(page, DxfOptions(version, unit=unit, grouping=grouping))
    result = compare(page, reading.drawing)
    assert result.is_equal(1e-9)
    assert sum(row.read for row in result.rows) == 6
    assert (reading.remarks, reading.unit) == ((), unit)
    assert reading.units_per_mm == pytest.approx({"mm": 1, "in": 1 / 25.4}[unit])


def test_texts_read_back_to_the_letter(page, version):
    drawing = back(page, DxfOptions(version)).drawing
    for name in ("title", "description", "metadata", "face_up", "width", "height"):
        assert getattr(drawing, name) == getattr(page, name), name
    assert [(g.key, g.title) for g in drawing.groups] == [(g.key, g.title) for g in page.groups]
    assert drawing.groups[0].captions == page.groups[0].captions


def test_names_of_paths_read_back_with_odd_letters_and_at_length(page, version):
    names = ["front | back", "é🌱 " * 150, "\\U+0041", "x=part=y", ""]
    items = tuple(replace(page.groups[1].items[1], name=name) for name in names)
    drawing = replace(page, groups=(Group("mat", "", items),))
    assert [item.name for item in back(drawing, DxfOptions(version)).drawing.items()] == names


def test_parts_keep_their_order_when_layers_come_first(page, version):
    groups = (replace(page.groups[1], key="z"), page.groups[0], replace(page.groups[1], key="a"))
    options = DxfOptions(version, grouping=Grouping.LAYER_THEN_PART)
    drawing = back(replace(page, groups=groups), options).drawing
    assert [group.key for group in drawing.groups] == ["z", "page-1", "a"]
    assert compare(replace(page, groups=groups), drawing).is_equal(1e-9)


def test_layers_read_back_under_their_names_in_the_order_of_the_file(page, version):
    reading = back(page, DxfOptions(version))
    assert reading.source_layers == ("TAPE_REVERSE", "SCORE_VALLEY", "CUT", "CUT", "MARK", "CUT")
    assert tuple(i.layer.value for i in reading.drawing.items()) == reading.source_layers


def test_chords_read_back_within_their_sagitta_and_no_better(page, version):
    sagitta = 0.05
    reading = back(page, DxfOptions(version, curves=Curves.CHORDS, sagitta=sagitta))
    result = compare(page, reading.drawing)
    assert sagitta / 10 < result.largest_deviation <= sagitta * (1 + 1e-9)
    assert result.has_equal_paths(sagitta * (1 + 1e-9))


def saved_again(text):
    """Return the file as a program that keeps what it does not know would save it."""
    stream = io.StringIO()
    ezdxf.read(io.StringIO(text)).write(stream)
    return stream.getvalue().encode("ascii")


def test_a_later_file_that_another_program_saves_again_keeps_all(page):
    told = with_true_size(page)
    reading = read_dxf(saved_again(write_dxf(told)), "saved.dxf")
    assert compare(told, reading.drawing).is_equal(1e-9)
    assert (reading.drawing.title, reading.drawing.metadata) == (told.title, told.metadata)
    assert look(reading).is_size_proved


def test_an_r12_file_that_another_program_saves_again_keeps_paths_and_parts(page):
    reading = read_dxf(saved_again(write_dxf(page, DxfOptions(Version.R12))), "saved.dxf")
    assert compare(page, reading.drawing).has_equal_paths(1e-9)
    assert [group.key for group in reading.drawing.groups] == ["page-1", "mat"]
    assert {"no-page", "no-physical-size"} <= reading.remark_codes()  # comments are lost


lengths = st.floats(-2000, 2000)
bulges = st.one_of(
    st.just(0.0),
    st.floats(-350, 350).filter(lambda a: abs(a) > 1e-4).map(lambda a: math.tan(math.radians(a) / 4)),
)  # fmt: skip
paths = st.builds(
    lambda vertices, closed: Path(tuple(Vertex(*v) for v in vertices), closed),
    st.lists(st.tuples(lengths, lengths, bulges), min_size=2, max_size=8),
    st.booleans(),
)
items = st.builds(Item, st.sampled_from(Layer), paths, st.text(max_size=20).map(str.strip))


@pytest.mark.parametrize("unit", ["mm", "in"])
@given(st.lists(items, min_size=1, max_size=6))
@settings(max_examples=50, deadline=None)
def test_any_paths_read_back_within_a_millionth(version, unit, found):
    drawing = Drawing(297.0, 210.0, (Group("part", "Part", tuple(found)),))
    reading = back(drawing, DxfOptions(version, unit=unit))
    result = compare(drawing, reading.drawing)
    assert result.is_equal(TOLERANCE)
    rank = {layer: i for i, layer in enumerate(DxfOptions().layers)}
    written = sorted(drawing.items(), key=lambda item: rank[item.layer])
    for a, b in zip(written, reading.drawing.items(), strict=True):
        assert_same(a, b)


def assert_same(a, b):
    assert (a.layer, a.path.closed) == (b.layer, b.path.closed)
    for v, w in zip(a.path.vertices, b.path.vertices, strict=True):
        assert math.dist(v.point, w.point) <= TOLERANCE
    for v, w in zip(a.path.segments(), b.path.segments(), strict=True):
        assert w.bulge == pytest.approx(float(v.bulge), rel=1e-12, abs=1e-11)


@given(
    st.dictionaries(st.text(max_size=30), st.text(max_size=400), max_size=4),
    st.text(max_size=300),
    st.booleans(),
)
@settings(max_examples=50, deadline=None)
def test_any_metadata_reads_back(version, metadata, title, face_up):
    drawing = Drawing(1 / 3, 2 / 7, (), title, title[::-1], tuple(metadata.items()), face_up)
    found = back(drawing, DxfOptions(version)).drawing
    assert found == drawing
