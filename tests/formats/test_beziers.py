"""Curves in place of arcs and back: how far off they lie, and which are arcs at all."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dielines.formats.beziers import Curve, bulge_of, chord_count, curves_of, on_cubic
from dielines.paths import Point, Segment, arc_of


def arc(radius: float, sweep_deg: float, turn_deg: float = 33.3) -> Segment:
    start, end = (
        Point(radius * math.cos(angle), radius * math.sin(angle))
        for angle in (math.radians(turn_deg), math.radians(turn_deg + sweep_deg))
    )
    return Segment(start, end, math.tan(math.radians(sweep_deg) / 4))


def off(segment: Segment, within: float) -> float:
    """Return how far the curves of an arc lie off it at most."""
    circle, here, worst = arc_of(segment), tuple(segment.start), 0.0
    for curve in curves_of(segment, within):
        places = [on_cubic((here, *curve), n / 200) for n in range(201)]
        worst = max(worst, *(abs(math.dist(circle.centre, p) - circle.radius) for p in places))
        here = curve.end
    assert here == tuple(segment.end)
    return worst


sweeps = st.floats(0.5, 355).flatmap(lambda size: st.sampled_from([size, -size]))


@given(st.floats(0.05, 3000), sweeps, st.sampled_from([1e-2, 1e-4]))
def test_curves_keep_as_near_to_their_arc_as_is_asked(radius, sweep_deg, within):
    assert off(arc(radius, sweep_deg), within) <= within * 1.01 + 1e-10


def test_a_quarter_circle_lies_off_by_the_published_share():
    # 2.7253e-4 of the radius: textbook value for handles of 4/3 (sqrt 2 - 1)
    assert off(arc(1000, 90), 1) == pytest.approx(0.2725, abs=0.0005)
    assert len(list(curves_of(arc(1, 90), 1e-3))) == 1
    assert len(list(curves_of(arc(1, 90), 1e-4))) == 2


def test_no_more_curves_than_needed():
    assert len(list(curves_of(arc(100 / 7, 180), 1e-2))) == 2
    assert len(list(curves_of(arc(290, 90), 1e-4))) <= 4


@given(st.floats(0.05, 3000), st.floats(0.5, 178), st.sampled_from([-1, 1]))
def test_the_arc_that_a_curve_stands_for_is_found_again(radius, sweep_deg, sign):
    segment = arc(radius, sign * sweep_deg)
    here, quarters = tuple(segment.start), 0.0
    for curve in curves_of(segment, 1e-4):
        bulge = bulge_of(here, curve, 1e-3)
        assert bulge is not None
        quarters += math.atan(bulge)
        here = curve.end
    assert math.tan(quarters) == pytest.approx(float(segment.bulge), rel=1e-6, abs=1e-8)


@pytest.mark.parametrize(
    ("points", "bulge"),
    [
        (((0, 0), (1, 0), (2, 0), (3, 0)), 0.0),
        (((0, 0), (0, 0), (3, 0), (3, 0)), 0.0),
        (((0, 0), (5, 0), (-2, 0), (3, 0)), None),  # runs out beyond its ends and back
        (((0, 0), (1, 1), (2, -1), (3, 0)), None),  # an S
        (((0, 0), (0, 2), (3, 1), (3, 0)), None),  # lopsided
        (((0, 0), (0, 9), (3, 9), (3, 0)), None),  # more than half a circle
        (((0, 0), (0, 2), (2, 0), (0, 0)), None),  # a loop
        (((0, 0), (0, 0), (0, 0), (0, 0)), None),
    ],
)
def test_what_is_no_arc_is_not_taken_for_one(points, bulge):
    assert bulge_of(points[0], Curve(*points[1:]), 0.01) == bulge


@given(st.lists(st.tuples(st.floats(-99, 99), st.floats(-99, 99)), min_size=4, max_size=4))
def test_chords_keep_to_the_curve(points):
    count = max(math.ceil(chord_count(points, 0.01)), 1)
    for i in range(min(count, 40)):
        ends = [on_cubic(points, share / count) for share in (i, i + 1)]
        for n in range(1, 10):
            x, y = on_cubic(points, (i + n / 10) / count)
            t = n / 10
            near = [a + t * (b - a) for a, b in zip(*ends, strict=True)]
            assert math.dist((x, y), near) <= 0.0101
