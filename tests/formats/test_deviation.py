"""How far two paths lie apart, whatever their start, direction or number of vertices."""

import math
from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from dielines.formats.deviation import deviation, deviation_in_step, distance_to, trace_of
from dielines.paths import (
    Path,
    Point,
    Segment,
    Vertex,
    arc_of,
    arc_point,
    circle,
    flattened,
    line,
    polyline,
    rectangle,
    reversed_path,
    translated,
)

OUTLINE = Path(
    (
        Vertex(0, 0),
        Vertex(Fraction(100, 3), 0, math.tan(math.pi / 7)),
        Vertex(Fraction(100, 3), Fraction(1270, 7), -math.tan(math.pi / 8)),
        Vertex(0, Fraction(1270, 7), 2.414214),
    )
)


def turned(path, steps):
    return replace(path, vertices=path.vertices[steps:] + path.vertices[:steps])


@given(st.tuples(*[st.floats(-500, 500)] * 4), st.floats(0.001, 1.5).map(math.tan))
@settings(max_examples=50, deadline=None)
def test_the_middle_of_an_arc_is_where_its_angles_say(ends, bulge):
    x0, y0, x1, y1 = ends
    if math.dist((x0, y0), (x1, y1)) < 1e-3:
        return
    path = Path((Vertex(x0, y0, bulge if x0 > y0 else -bulge), Vertex(x1, y1)), closed=False)
    assert trace_of(path)[1] == pytest.approx(
        arc_point(arc_of(next(path.segments())), 0.5), abs=1e-6
    )


def test_a_trace_has_the_middle_of_the_closing_side_only_when_closed():
    corners = [(0, 0), (7, 0), (7, 3)]
    assert trace_of(polyline(corners, False)) == [(0, 0), (3.5, 0), (7, 0), (7, 1.5), (7, 3)]
    assert trace_of(polyline(corners, True))[5:] == [(3.5, 1.5)]


@pytest.mark.parametrize("steps", range(4))
@pytest.mark.parametrize("turn", [lambda path: path, reversed_path])
def test_start_and_direction_of_a_closed_path_make_no_difference(steps, turn):
    assert deviation(OUTLINE, turned(turn(OUTLINE), steps)) < 1e-9


def test_direction_of_an_open_path_makes_no_difference():
    path = replace(OUTLINE, closed=False)
    assert deviation(path, reversed_path(path)) < 1e-9
    assert deviation_in_step(path, reversed_path(path)) > 30


def test_a_path_that_is_moved_is_off_by_as_much():
    assert deviation(OUTLINE, translated(OUTLINE, 0.3, 0.4)) == pytest.approx(0.5)
    square = rectangle(0, 0, Fraction(22, 7), 3)
    assert deviation(square, translated(square, 0.3, 0.4)) == pytest.approx(0.5)
    assert deviation_in_step(square, translated(square, 0.3, 0.4)) == pytest.approx(0.5)


def test_a_path_run_the_other_way_is_measured_corner_by_corner_too():
    one, other = (polyline([(0, 0), (x, 0), (9, 0), (9, 7), (0, 7)], True) for x in (3, 3.3))
    assert deviation(one, turned(reversed_path(other), 2)) == pytest.approx(0.3)


def test_one_corner_out_of_place_counts_alone():
    page = rectangle(0, 0, 90, Fraction(100, 3))
    assert deviation(
        page, turned(replace(page, vertices=(Vertex(-0.07, 0), *page.vertices[1:])), 2)
    ) == pytest.approx(0.07)


def test_another_bulge_counts_by_its_apex():
    flat, round_ = (Path((Vertex(0, 0, b), Vertex(20, 0)), False) for b in (0.1, 0.11))
    assert deviation(flat, round_) == pytest.approx(0.1)  # sagitta = bulge x half chord


@pytest.mark.parametrize("sagitta", [0.2, 0.01])
def test_chords_are_off_by_their_sagitta(sagitta):
    hole = circle((5, 7), Fraction(317, 10))
    chords = polyline(flattened(hole, sagitta), closed=True)
    assert sagitta / 4 < deviation(hole, chords) <= sagitta * (1 + 1e-9)
    assert sagitta / 4 < deviation(chords, hole) <= sagitta * (1 + 1e-9)


def test_paths_of_few_corners_are_measured_as_those_of_many(monkeypatch):
    def measured(few):
        monkeypatch.setattr("dielines.formats.deviation._FEW", few)
        chords = polyline(flattened(OUTLINE, 0.7), closed=True)
        return deviation(translated(OUTLINE, 0, Fraction(1, 7)), chords), len(chords.vertices)

    (by_tree, _), (one_by_one, corners) = measured(0), measured(10**6)
    assert by_tree == pytest.approx(one_by_one, rel=1e-12)
    assert corners > 9
    assert 1 / 7 < one_by_one < 1


def test_corners_that_lie_on_a_straight_side_make_no_difference():
    plain = rectangle(0, 0, 90, 40)
    more = polyline([(0, 0), (31, 0), (90, 0), (90, 40), (7, 40), (0, 40), (0, 39)], True)
    assert deviation(plain, more) == pytest.approx(0, abs=1e-12)


def test_an_arc_in_two_pieces_is_the_same_arc():
    whole = Path((Vertex(0, 0, 2.414214), Vertex(10, 0)), False)
    arc = arc_of(next(whole.segments()))
    half = math.tan(arc.sweep / 8)
    pieces = Path((Vertex(0, 0, half), Vertex(*arc_point(arc, 0.5), half), Vertex(10, 0)), False)
    assert deviation(whole, pieces) < 1e-9


def test_a_side_that_is_lacking_counts():
    closed = rectangle(0, 0, 90, 40)
    assert deviation(closed, replace(closed, closed=False)) == pytest.approx(20)  # the left side


def test_a_point_and_a_line_are_compared_too():
    dot = Path((Vertex(1, 1),), False)
    assert deviation(dot, line((1, 1), (4, 5))) == pytest.approx(5)
    assert deviation(Path((), False), dot) == math.inf


def test_the_distance_to_an_arc_is_exact():
    half = Segment(Point(0, 0), Point(2, 0), 1.0)  # the lower half of the circle round (1, 0)
    assert distance_to((1, -3), half) == pytest.approx(2)
    assert distance_to((1, -0.25), half) == pytest.approx(0.75)
    assert distance_to((3, 4), half) == pytest.approx(math.hypot(1, 4))
    assert distance_to((1, 5), half._replace(bulge=-1.0)) == pytest.approx(4)


def test_the_distance_to_a_line_ends_at_its_ends():
    side = Segment(Point(0, 0), Point(4, 0), 0)
    assert [distance_to(place, side) for place in ((2, 3), (7, 4), (-3, 4))] == [3, 5, 5]
    assert distance_to((3, 4), Segment(Point(0, 0), Point(0, 0), 0)) == 5
