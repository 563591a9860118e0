"""What is written is read back: every path within 0.00001 mm, and every word."""

import math
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from dielines.drawing import Caption, Drawing, Group, Item, Layer
from dielines.formats.svg.options import CUT_FILE, Grouping, Options, SizeUnit, UserUnit
from dielines.formats.svg.reading import read_svg
from dielines.formats.svg.writing import write_svg
from dielines.paths import (
    Path,
    Point,
    Vertex,
    arc_of,
    arc_point,
    circle,
    length_of,
    line,
    rectangle,
    segment_length,
)

TOLERANCE = 1e-5  # mm
THIRD, SEVENTH = Fraction(1, 3), Fraction(1, 7)

sizes = st.floats(0.01, 1000)
places = st.floats(-200, 1200)
bulges = st.one_of(
    st.just(0.0),
    st.sampled_from([1.0, -1.0, 1 - 1e-7, -1 - 1e-7, 1e-6, math.tan(math.pi / 8)]),
    st.floats(-3, 3),
    st.floats(-100, 100),
)
vertices = st.builds(Vertex, places, places, bulges)
paths = st.builds(Path, st.lists(vertices, min_size=2, max_size=6).map(tuple), st.booleans())
texts = st.text(max_size=20)


def drawing_of(*paths: Path, layer: Layer = Layer.CUT, **about) -> Drawing:
    items = tuple(Item(layer, path) for path in paths)
    return Drawing(300 * SEVENTH, 200 * THIRD, (Group("part", "Part", items),), **about)


def read_back(drawing: Drawing, options: Options = CUT_FILE) -> Drawing:
    return read_svg(write_svg(drawing, options).encode(), "test.svg").drawing


def along(path: Path, share: float) -> tuple[float, float]:
    """Return the point at *share* of the length of *path*."""
    left = share * length_of(path)
    for segment in path.segments():
        length = segment_length(segment)
        if left <= length and length:
            if segment.bulge:
                return arc_point(arc_of(segment), left / length)
            (x0, y0), (x1, y1), _ = segment
            return x0 + (x1 - x0) * left / length, y0 + (y1 - y0) * left / length
        left -= length
    return path.points[0] if path.closed else path.points[-1]


def farthest(first: Path, second: Path) -> float:
    """Return how far two paths that start alike lie apart, at 60 places."""
    shares = [i / 60 for i in range(61)]
    return max(math.dist(along(first, share), along(second, share)) for share in shares)


def is_drawable(path: Path) -> bool:
    """Whether no segment is so short that the file leaves it out, and no circle is huge."""
    return all(
        math.dist(segment.start, segment.end) > 1e-3
        and (not segment.bulge or arc_of(segment).radius < 1e5)
        for segment in path.segments()
    )


@given(paths.filter(is_drawable))
@settings(max_examples=80, deadline=None)
def test_any_path_comes_back_where_it_was(path):
    (item,) = read_back(drawing_of(path)).items()
    assert item.path.closed == path.closed
    assert farthest(path, item.path) < TOLERANCE


@given(
    paths.filter(is_drawable),
    st.sampled_from(SizeUnit),
    st.sampled_from(UserUnit),
    sizes,
    sizes,
)
@settings(max_examples=50, deadline=None)
def test_unit_and_page_change_nothing(path, size_unit, user_unit, width, height):
    drawing = Drawing(width, height, (Group("part", "Part", (Item(Layer.MARK, path),)),))
    read = read_back(drawing, Options(size_unit=size_unit, user_unit=user_unit))
    assert (read.width, read.height) == pytest.approx((width, height), abs=TOLERANCE)
    # a page of some hundredths of a mm gives too few digits to scale a path of a metre
    if min(width, height) > 10:
        assert farthest(path, read.items()[0].path) < TOLERANCE


@pytest.mark.parametrize("bulge", [2e-5, 0.3, 0.999, 1, 1.001, 2.4142135, 57.3, -1, -8.1])
def test_arcs_stay_arcs(bulge):
    path = Path((Vertex(10 * SEVENTH, 5, bulge), Vertex(30, 12 * THIRD)), closed=False)
    (item,) = read_back(drawing_of(path)).items()
    assert all(vertex.bulge for vertex in item.path.vertices[:-1])
    assert len(item.path.vertices) <= 4
    assert length_of(item.path) == pytest.approx(length_of(path), abs=TOLERANCE)


def test_a_circle_comes_back_as_two_half_arcs():
    path = circle((50 * SEVENTH, 20), 22 * THIRD)
    (item,) = read_back(drawing_of(path)).items()
    assert [vertex.bulge for vertex in item.path.vertices] == pytest.approx([1, 1], abs=1e-12)
    assert item.path.closed


def test_straight_paths_keep_every_vertex_and_add_none():
    path = rectangle(1 * SEVENTH, 1 * THIRD, 20 * SEVENTH, 40 * THIRD)
    (item,) = read_back(drawing_of(path)).items()
    assert len(item.path.vertices) == 4
    for (x, y), (x2, y2) in zip(path.points, item.path.points, strict=True):
        assert math.dist((x, y), (x2, y2)) < TOLERANCE


def test_an_open_path_that_ends_where_it_began_stays_open():
    path = Path((Vertex(1, 1), Vertex(9, 1), Vertex(5, 7), Vertex(1, 1)), closed=False)
    (item,) = read_back(drawing_of(path)).items()
    assert not item.path.closed
    assert len(item.path.vertices) == 4


def test_numbers_carry_at_least_five_decimals():
    path = line((1.23456789, 2), (3, 4))
    (item,) = read_back(drawing_of(path)).items()
    assert abs(item.path.points[0].x - 1.23456789) < 5e-8


@given(st.lists(st.tuples(texts, texts), max_size=4).map(tuple), texts, texts)
@settings(max_examples=50, deadline=None)
def test_every_pair_of_metadata_comes_back_equal(metadata, title, description):
    about = {"metadata": metadata, "title": title, "description": description}
    assert read_back(drawing_of(line((0, 0), (5, 5)), **about)).metadata == metadata


@pytest.mark.parametrize(
    "text", ["a\r\nb\tc", "<&>\"'", "]]>", "\x00\x1f", "\ud800", "\ufffe", "  two  ", "Ä ½ 😀"]
)
def test_awkward_metadata_comes_back_equal(text):
    drawing = drawing_of(line((0, 0), (5, 5)), metadata=(("key", text), (text, "value")))
    assert read_back(drawing).metadata == drawing.metadata


def test_titles_come_back_with_a_sign_for_what_xml_cannot_carry():
    drawing = drawing_of(line((0, 0), (5, 5)), title="A <B> & \x01C", description="D & E")
    read = read_back(drawing)
    assert (read.title, read.description) == ("A <B> & \ufffdC", "D & E")


@pytest.mark.parametrize("is_face_up", [True, False])
def test_the_side_that_lies_up_comes_back(is_face_up):
    drawing = drawing_of(line((0, 0), (5, 5)), face_up=is_face_up)
    assert read_back(drawing).face_up is is_face_up


def many_layers() -> Drawing:
    groups = tuple(
        Group(
            key,
            title,
            tuple(
                Item(layer, line((i, 3 * SEVENTH), (i, 20 * THIRD)), f"{layer.value} of {key}")
                for i, layer in enumerate(Layer)
            ),
            (Caption(Layer.LABEL, "words", Point(2, 3), 3.0),),
        )
        for key, title in (("first", "Page <1>"), ("second.part", ""))
    )
    return Drawing(100, 50, groups)


@pytest.mark.parametrize("grouping", Grouping)
def test_layers_and_parts_come_back_whatever_the_grouping(grouping):
    drawing = many_layers()
    read = read_back(drawing, Options(grouping=grouping))
    assert [group.key for group in read.groups] == ["first", "second.part"]
    assert read.groups[0].title == "Page <1>"
    for written, back in zip(drawing.groups, read.groups, strict=True):
        assert {(i.layer, i.name) for i in written.items} == {(i.layer, i.name) for i in back.items}
        assert len(back.items) == len(Layer)


@pytest.mark.parametrize("grouping", Grouping)
def test_each_item_is_told_its_layer_as_the_file_has_it(grouping):
    reading = read_svg(write_svg(many_layers(), Options(grouping=grouping)).encode(), "test.svg")
    layers = tuple(item.layer.value for item in reading.drawing.items())
    assert reading.source_layers == layers
    assert "unknown-layer" not in reading.remark_codes()


def test_a_reading_says_unit_and_version():
    text = write_svg(many_layers(), Options(size_unit=SizeUnit.INCHES))
    reading = read_svg(text.encode(), "test.svg")
    assert (reading.kind, reading.unit, reading.version) == ("svg", "in", "1.1")
    assert reading.units_per_mm == pytest.approx(96 / 25.4, rel=1e-7)
    assert reading.remark_codes() == {"text-left-out"}


def test_the_same_drawing_gives_the_same_text():
    assert write_svg(many_layers()) == write_svg(many_layers())
