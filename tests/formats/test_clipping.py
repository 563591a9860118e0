"""Paths cut at a window, held against another library's intersection of the same."""

import math

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from dielines.formats.clipping import clipped
from dielines.paths import (
    Bounds,
    Path,
    Point,
    Segment,
    Vertex,
    arc_of,
    circle,
    flattened,
    length_of,
    line,
    polyline,
    rectangle,
)

WINDOW = Bounds(1 / 3, 1 / 7, 10 + 1 / 3, 7 + 1 / 7)
FINE = 3e-6  # mm, of chords in place of arcs


def as_line(path: Path) -> shapely.LineString:
    points = flattened(path, FINE)
    return shapely.LineString([*points, points[0]] if path.closed else points)


def test_a_path_within_comes_back_as_it_is():
    page = rectangle(1, 1, 9, 6)
    assert clipped(page, WINDOW) == (page,)
    edge = rectangle(*WINDOW)
    assert clipped(edge, WINDOW) == (edge,)


@pytest.mark.parametrize(
    "path",
    [line((-3, 2), (0, 2)), circle((-5, 3), 2), line((0, 9), (12, 9)), line((-4, 3), (4, -3)),
     rectangle(-20, -20, 40, 40), Path(())],
    ids=["left", "circle", "above", "past a corner", "all around", "nothing"],
)  # fmt: skip
def test_a_path_outside_leaves_nothing(path):
    assert clipped(path, WINDOW) == ()


def test_what_only_touches_from_outside_leaves_nothing():
    assert clipped(line((-1, 1), (1 / 3, 2)), WINDOW) == ()
    assert clipped(circle((1 / 3 - 2, 3), 2), WINDOW) == ()


def test_a_line_along_the_border_stays():
    (piece,) = clipped(line((1 / 3, -5), (1 / 3, 50)), WINDOW)
    assert piece.points == (Point(1 / 3, 1 / 7), Point(1 / 3, 7 + 1 / 7))


def test_ends_lie_on_the_border_to_the_last_digit():
    (piece,) = clipped(line((-7, 1), (23, 9 / 7)), WINDOW)
    assert [vertex.x for vertex in piece.vertices] == [WINDOW.left, WINDOW.right]


def test_a_piece_that_runs_over_the_start_of_a_closed_path_is_one():
    corner = polyline([(5, 3), (50, 3), (50, 5), (5, 5)], closed=True)
    (piece,) = clipped(corner, WINDOW)
    assert not piece.closed
    assert piece.points == (
        Point(WINDOW.right, 5),
        Point(5, 5),
        Point(5, 3),
        Point(WINDOW.right, 3),
    )


def test_a_path_that_leaves_twice_comes_in_two_pieces():
    pieces = clipped(rectangle(3, -4, 6, 20), WINDOW)
    assert [piece.points for piece in pieces] == [
        (Point(6, 1 / 7), Point(6, 7 + 1 / 7)),
        (Point(3, 7 + 1 / 7), Point(3, 1 / 7)),
    ]


def test_pieces_of_an_arc_lie_on_its_circle():
    pieces = clipped(circle((10, 4), 7 / 3), WINDOW)
    for piece in pieces:
        for segment in piece.segments():
            arc = arc_of(segment)
            assert arc.centre == pytest.approx((10, 4))
            assert arc.radius == pytest.approx(7 / 3)
    half = math.acos((WINDOW.right - 10) / (7 / 3))  # right of the border lies twice this angle
    assert sum(map(length_of, pieces)) == pytest.approx((math.tau - 2 * half) * 7 / 3)


places = st.tuples(*[st.integers(-60, 160).map(lambda n: n / 7)] * 2)
bulges = st.sampled_from([0.0, 0.0, 1 / 3, -1 / 7, 1.0, -2.5])


@st.composite
def paths(draw) -> Path:
    corners = draw(st.lists(places, min_size=2, max_size=7, unique=True))
    vertices = tuple(Vertex(x, y, draw(bulges)) for x, y in corners)
    return Path(vertices, draw(st.booleans()))


@settings(max_examples=100, deadline=None)
@given(paths())
def test_pieces_are_what_another_library_finds_within(path):
    pieces = clipped(path, WINDOW)
    window = shapely.box(*WINDOW)
    wanted = sum(length_within(segment, window) for segment in path.segments())
    assert sum(map(length_of, pieces)) == pytest.approx(wanted, abs=1e-3)
    whole = as_line(path)
    for piece in pieces:
        assert (
            shapely.hausdorff_distance(
                as_line(piece).intersection(window.buffer(1e-4)), as_line(piece)
            )
            < 1e-3
        )
        assert all(whole.distance(shapely.Point(place)) < 1e-5 for place in flattened(piece, 0.1))
        assert not piece.closed or piece == path


def length_within(segment: Segment, window) -> float:
    """Return how much of a segment lies in *window* by the other library; along its border all."""
    path = Path((Vertex(*segment.start, segment.bulge), Vertex(*segment.end)), closed=False)
    return as_line(path).intersection(window).length


@settings(max_examples=100, deadline=None)
@given(paths())
def test_two_windows_side_by_side_share_a_path_without_loss(path):
    left, right = Bounds(-10, -10, 7, 30), Bounds(7, -10, 30, 30)
    whole = Bounds(-10, -10, 30, 30)
    along = sum(
        abs(s.end.y - s.start.y)
        for s in path.segments()
        if s.start.x == s.end.x == 7 and not s.bulge
    )  # what lies on the line between both is shown by both
    lengths = [sum(map(length_of, clipped(path, window))) for window in (left, right, whole)]
    assert lengths[0] + lengths[1] >= lengths[2] - 1e-6
    assert lengths[0] + lengths[1] <= lengths[2] + 2 * along + 1e-6
