"""Paths drawn in by the same distance all round, held to geometry done by hand and to buffers."""

from __future__ import annotations

import math
from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LinearRing, Polygon

from dielines.offsets import NothingLeft, inset, inset_past_short_edges
from dielines.paths import (
    Path,
    Vertex,
    arc_of,
    bounds_of,
    circle,
    flattened,
    polyline,
    rectangle,
    reversed_path,
    signed_area,
)

THIRD, SEVENTH = Fraction(1, 3), Fraction(1, 7)


def arcs(path: Path):
    return [arc_of(segment) for segment in path.segments() if segment.bulge]


def test_a_rectangle_shrinks_exactly_on_all_sides():
    path = inset(rectangle(THIRD, SEVENTH, 10 + THIRD, 7 + SEVENTH), SEVENTH)
    assert bounds_of([path]) == (
        THIRD + SEVENTH, 2 * SEVENTH, 10 + THIRD - SEVENTH, 7
    )  # fmt: skip
    assert all(isinstance(n, Fraction) for point in path.points for n in point)
    assert signed_area(path) == (10 - 2 * SEVENTH) * (7 - 2 * SEVENTH)


def test_drawn_in_by_nothing_a_path_stays_as_it_is():
    path = rectangle(Fraction(0), Fraction(0), Fraction(3), Fraction(2))
    assert inset(path, Fraction(0)) == path


def test_an_interior_that_runs_clockwise_grows():
    window = reversed_path(rectangle(Fraction(0), Fraction(0), Fraction(3), Fraction(2)))
    assert bounds_of([inset(window, THIRD)]) == (-THIRD, -THIRD, 3 + THIRD, 2 + THIRD)


def test_a_circle_keeps_its_centre_and_stays_true_arcs():
    path = inset(circle((THIRD, SEVENTH), Fraction(5)), THIRD)
    assert [arc.radius for arc in arcs(path)] == pytest.approx([5 - 1 / 3] * 2)
    for arc in arcs(path):
        assert arc.centre == pytest.approx((1 / 3, 1 / 7))
    grown = inset(reversed_path(circle((THIRD, SEVENTH), Fraction(5))), THIRD)
    assert [arc.radius for arc in arcs(grown)] == pytest.approx([5 + 1 / 3] * 2)


def test_a_slanted_side_moves_by_the_distance_square_to_it():
    """A triangle of 3, 4 and 5: its inner circle has radius 1, so the inset by 1/3 is 2/3 as large."""
    path = inset(polyline([(0, 0), (4, 0), (0, 3)], closed=True), THIRD)
    assert float(signed_area(path)) == pytest.approx(6 * (2 / 3) ** 2)
    assert sorted(float(x) for x, _ in path.points)[:2] == pytest.approx([1 / 3, 1 / 3])


def test_rounded_corners_shrink_and_become_sharp_when_the_inset_is_their_radius():
    quarter = math.tan(math.pi / 8)
    rounded = Path(
        (
            Vertex(Fraction(0), Fraction(0)), Vertex(Fraction(9), Fraction(0), quarter),
            Vertex(Fraction(10), Fraction(1)), Vertex(Fraction(10), Fraction(5)),
            Vertex(Fraction(0), Fraction(5)),
        )
    )  # fmt: skip
    path = inset(rounded, THIRD)
    (arc,) = arcs(path)
    assert (arc.radius, *arc.centre) == pytest.approx((2 / 3, 9, 1))
    sharp = inset(rounded, Fraction(3, 2))
    assert not arcs(sharp)
    assert bounds_of([sharp]) == pytest.approx((1.5, 1.5, 8.5, 3.5))


NOTCHED = Path(  # a leaf with a half round of radius 2 cut out of the middle of its right side
    (
        Vertex(Fraction(0), Fraction(0)), Vertex(Fraction(12), Fraction(0)),
        Vertex(Fraction(12), Fraction(3), Fraction(-1)), Vertex(Fraction(12), Fraction(7)),
        Vertex(Fraction(12), Fraction(10)), Vertex(Fraction(0), Fraction(10)),
    )
)  # fmt: skip


@pytest.mark.parametrize("by", [THIRD, Fraction(1), Fraction(6, 5)])
def test_a_notch_grows_by_the_inset_round_the_same_centre(by):
    """What is less than by away from the notch goes: radius 2 + by, met at x = 12 - by."""
    path = inset(NOTCHED, by)
    (arc,) = arcs(path)
    assert (arc.radius, *arc.centre) == pytest.approx((2 + float(by), 12, 5))
    half = math.sqrt((2 + float(by)) ** 2 - float(by) ** 2)
    ends = sorted(float(p.y) for p in path.points if abs(float(p.x) - 12 + float(by)) < 1e-9)
    assert ends[1:3] == pytest.approx([5 - half, 5 + half])


def test_a_notch_that_reaches_the_corners_is_told_and_not_drawn_wrongly():
    """By 2 the notch's arc of 4 meets x = 10 at 1.54, below the tail at 2: the right side is gone."""
    with pytest.raises(NothingLeft):
        inset(NOTCHED, Fraction(2))


def test_a_notch_that_comes_through_the_opposite_side_leaves_nothing():
    """A strip 3 wide, notch of 2: by 4/5 the arc of 2 4/5 reaches x = 1/5, past the left side at 4/5."""
    strip = Path(tuple(replace(v, x=v.x - 9 if v.x else v.x) for v in NOTCHED.vertices))
    assert len(arcs(inset(strip, SEVENTH))) == 1
    with pytest.raises(NothingLeft):
        inset(strip, Fraction(4, 5))


@pytest.mark.parametrize(
    "path",
    [
        rectangle(Fraction(0), Fraction(0), Fraction(10), Fraction(2)),
        circle((0, 0), Fraction(1)),
        polyline([(0, 0), (4, 0), (0, 3)], closed=True),
    ],
)
def test_nothing_is_left_when_both_sides_meet(path):
    with pytest.raises(NothingLeft):
        inset(path, Fraction(1))


def test_pieces_that_run_on_straight_stay_so():
    corners = [(0, 0), (5, 0), (9, 0), (9, 4), (0, 4)]
    path = polyline([(Fraction(x), Fraction(y)) for x, y in corners], closed=True)
    inner = inset(path, SEVENTH)
    assert Fraction(5) in {point.x for point in inner.points}
    assert bounds_of([inner]) == (SEVENTH, SEVENTH, 9 - SEVENTH, 4 - SEVENTH)


def test_a_point_in_the_middle_of_a_notch_does_not_change_it():
    """The same notch as two quarters."""
    quarter = -Fraction(math.tan(math.pi / 8))
    halves = Path(
        (
            *NOTCHED.vertices[:2], Vertex(Fraction(12), Fraction(3), quarter),
            Vertex(Fraction(10), Fraction(5), quarter), *NOTCHED.vertices[3:],
        )
    )  # fmt: skip
    one, two = (Polygon(flattened(inset(path, THIRD), 1e-4)) for path in (NOTCHED, halves))
    assert one.symmetric_difference(two).area < 1e-2


@settings(max_examples=60, deadline=None)
@given(
    width=st.fractions(4, 40, max_denominator=7),
    height=st.fractions(4, 40, max_denominator=7),
    radius=st.fractions(Fraction(1, 3), Fraction(3, 2), max_denominator=7),
    by=st.fractions(Fraction(1, 7), Fraction(6, 5), max_denominator=7),
    corner=st.fractions(Fraction(1, 7), Fraction(1), max_denominator=7),
)
def test_what_is_left_is_all_that_lies_deep_enough_inside(width, height, radius, by, corner):
    """Against the eroded polygon (shapely); no corner here points inwards, so it is that exactly."""
    quarter = math.tan(math.pi / 8)
    middle = height / 2
    if radius + corner + by >= middle:
        return
    path = Path(
        (
            Vertex(Fraction(0), Fraction(0)), Vertex(width - corner, Fraction(0), quarter),
            Vertex(width, corner), Vertex(width, middle - radius, Fraction(-1)),
            Vertex(width, middle + radius), Vertex(width, height), Vertex(Fraction(0), height),
        )
    )  # fmt: skip
    try:
        found = Polygon(flattened(inset(path, by), 1e-5))
    except NothingLeft:
        return
    whole = Polygon(flattened(path, 1e-3))  # of finer chords shapely erodes too much
    assert found.is_valid
    eroded = whole.buffer(-float(by), quad_segs=100)
    assert found.symmetric_difference(eroded).area < 1e-3 * found.length


def notched(width: float) -> Path:
    """Return a rectangle run clockwise with a narrow notch in its upper edge, flat at its bottom."""
    half = width / 2
    top = [(5 + half + 1 / 3, 7.0), (5 + half, 3.0), (5 - half, 3.0), (5 - half - 1 / 3, 7.0)]
    return reversed_path(polyline([(0.0, 0.0), (10.0, 0.0), (10.0, 7.0), *top, (0.0, 7.0)], True))


def test_an_edge_at_the_bottom_of_a_narrow_notch_goes_and_its_neighbours_meet():
    path = notched(1 / 7)
    with pytest.raises(NothingLeft):
        inset(path, 0.1)
    drawn = inset_past_short_edges(path, 0.1)
    assert len(drawn.vertices) == len(path.vertices) - 1
    buffered = Polygon(flattened(path)).buffer(0.1, join_style="mitre", mitre_limit=100)
    assert Polygon(drawn.points).symmetric_difference(buffered).area == pytest.approx(0, abs=1e-9)


def test_where_no_edge_is_short_both_ways_of_drawing_in_agree():
    assert inset_past_short_edges(notched(1 / 7), 0.05) == inset(notched(1 / 7), 0.05)


def test_a_notch_with_parallel_sides_that_is_too_narrow_is_refused():
    slot = [(5.1, 7.0), (5.1, 3.0), (4.9, 3.0), (4.9, 7.0)]
    corners = [(0.0, 0.0), (10.0, 0.0), (10.0, 7.0), *slot, (0.0, 7.0)]
    path = reversed_path(polyline(corners, True))
    assert len(inset_past_short_edges(path, 0.09).vertices) == len(path.vertices)
    with pytest.raises(NothingLeft):
        inset_past_short_edges(path, 0.11)


def test_four_corners_that_are_no_rectangle_and_cross_are_refused():
    hook = polyline([(0.0, 7.0), (0.0, 4.0), (3.0, 4.0), (1.0, 9.0), (2.0, 5.0)], True)
    with pytest.raises(NothingLeft):
        inset_past_short_edges(hook, 0.5)


@settings(max_examples=150, deadline=None)
@given(
    st.lists(st.tuples(st.floats(1, 10), st.floats(0.5, 1)), min_size=4, max_size=9),
    st.sampled_from([1 / 30, 1 / 7, 1 / 3]),
)
def test_what_is_drawn_out_past_short_edges_is_never_nearer_than_asked(spokes, by):
    total = sum(share for _, share in spokes)
    angles = [math.tau * sum(s for _, s in spokes[:i]) / total for i in range(len(spokes))]
    path = polyline(
        [(r * math.cos(a), r * math.sin(a)) for a, (r, _) in zip(angles, spokes, strict=True)], True
    )
    try:
        drawn = inset_past_short_edges(reversed_path(path), by)
    except NothingLeft:
        return
    assert Polygon(drawn.points).contains(Polygon(path.points))
    assert LinearRing(drawn.points).distance(LinearRing(path.points)) >= by - 0.004
