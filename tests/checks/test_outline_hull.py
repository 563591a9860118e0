"""Outlines that panels fold into, with bays closed, and what lies beyond them. All is geometry."""

import math
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as some

from dielines.checks.outline_hull import beyond, convex_hull, corners_of, hull_of
from dielines.paths import Path, Point, Vertex, polyline, rectangle

THIRD, SEVENTH = Fraction(1, 3), Fraction(1, 7)
PLACES = some.tuples(
    some.integers(-200, 200).map(lambda n: n / 7), some.integers(-200, 200).map(lambda n: n / 3)
)


def notched():
    """A page of 60 x 40 with a half-round notch at its right."""
    corners = [(0, 0), (60, 0), (60, 14), (60, 26), (60, 40), (0, 40)]
    bulges = [0, 0, -1, 0, 0, 0]
    return Path(
        tuple(
            Vertex(Fraction(x), Fraction(y), b) for (x, y), b in zip(corners, bulges, strict=True)
        ),
        closed=True,
    )


def test_what_lies_inside_or_on_the_border_is_not_beyond():
    hull = hull_of([rectangle(0, 0, THIRD, SEVENTH)])
    assert beyond(hull, [(0, 0), (THIRD, SEVENTH), (THIRD / 2, 0)]) is None


def test_a_distance_beyond_a_rectangle_is_exact():
    hull = hull_of([rectangle(0, 0, 60, 40)])
    found = beyond(hull, [(5, 40 + SEVENTH), (60 + THIRD, 7)])
    assert found.distance == THIRD
    assert found.place == Point(60 + THIRD, 7)
    assert found.way == (float(THIRD), 0)


def test_beyond_a_corner_the_distance_runs_aslant():
    found = beyond(hull_of([rectangle(0, 0, 60, 40)]), [(63, 44)])
    assert found.distance == 5


def test_a_notch_is_closed_and_the_outline_stays_a_rectangle():
    hull = hull_of([notched()])
    assert hull.corners == ()
    assert beyond(hull, [(59, 20)]) is None
    assert beyond(hull, [(60 + SEVENTH, 20)]).distance == SEVENTH


def test_two_panels_side_by_side_make_one_outline():
    hull = hull_of([rectangle(0, 0, 20, 40), rectangle(20, 0, 60, 40)])
    assert hull.corners == ()
    assert hull.bounds == (0, 0, 60, 40)


def test_beyond_a_slanted_edge_the_distance_is_that_of_its_normal():
    hull = hull_of([polyline([(0, 0), (30, 0), (0, 40)], closed=True)])
    found = beyond(hull, [(15 + 4, 20 + 3)])
    assert found.distance == pytest.approx(5)
    assert math.hypot(*found.way) == pytest.approx(5)


def test_corners_of_a_notched_outline_are_exact_and_its_arc_is_followed():
    corners = corners_of(notched())
    assert corners[:6] == [(0, 0), (60, 0), (60, 14), (60, 26), (60, 40), (0, 40)]
    assert min(float(x) for x, y in corners if 14 < y < 26) == pytest.approx(54, abs=0.02)


@given(some.lists(PLACES, min_size=3, max_size=30))
def test_a_hull_is_convex_and_holds_every_point(points):
    corners = convex_hull(points)
    for index, corner in enumerate(corners):
        a, b = corners[index - 2], corners[index - 1]
        turn = (b[0] - a[0]) * (corner[1] - a[1]) - (b[1] - a[1]) * (corner[0] - a[0])
        assert turn > 0 or len(corners) < 3
    assert set(corners) <= set(points)
    for x, y in points:
        for a, b in zip(corners, corners[1:] + corners[:1], strict=True):
            assert (b[0] - a[0]) * (y - a[1]) - (b[1] - a[1]) * (x - a[0]) >= -1e-9
