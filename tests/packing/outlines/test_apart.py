"""That two parts never share a sheet is proved; shapely looks for a counter-example."""

import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.affinity import rotate, translate

from dielines.packing.lots import Lots
from dielines.packing.outlines.apart import can_lie_together, inside_of, most_apart
from dielines.packing.outlines.inside import largest_rectangle_inside

#: A page with two corners cut away, in sixteenths, as in SHEETS: album B of common practice.
CROSS = [(0, 10), (34, 10), (34, 0), (100, 0), (100, 80), (34, 80), (34, 70), (0, 70)]


def box(wide, high):
    return [(0, 0), (wide, 0), (wide, high), (0, high)]


def ways(rings, quarters, cell, gap):
    return [inside_of(rings, turn, cell, gap) for turn in quarters]


def test_two_boxes_share_a_sheet_just_when_they_fit_side_by_side():
    for wide, fits in ((50, True), (51.1, False)):
        one = ways([box(wide, 60)], (0, 2), 1.0, 1.0)
        assert can_lie_together(one, one, 103, 90, 1.0) is fits, wide


def test_a_turn_that_is_allowed_makes_room():
    lying = ways([box(60, 30)], (0, 2), 1.0, 0.0)
    turned = ways([box(60, 30)], (0, 1, 2, 3), 1.0, 0.0)
    standing = ways([box(30, 60)], (0, 2), 1.0, 0.0)
    assert not can_lie_together(lying, standing, 89, 65, 1.0)
    assert can_lie_together(turned, standing, 89, 65, 1.0)


def test_cut_away_corners_let_two_parts_share_a_sheet_that_is_too_small_for_their_boxes():
    one = ways([CROSS], (0, 2), 1.0, 0.0)
    assert not can_lie_together(one, one, 120, 155, 1.0)
    ell = [(0, 0), (90, 0), (90, 30), (30, 30), (30, 90), (0, 90)]
    lying = ways([ell], (0, 2), 1.0, 0.0)
    assert can_lie_together(lying, lying, 121, 121, 1.0)
    assert not can_lie_together(lying, lying, 117, 117, 1.0)


def test_a_window_holds_a_small_part():
    frame = ways([box(90, 90), [(20, 20), (70, 20), (70, 70), (20, 70)]], (0,), 1.0, 0.0)
    assert can_lie_together(frame, ways([box(48, 48)], (0,), 1.0, 0.0), 92, 92, 1.0)
    assert not can_lie_together(frame, ways([box(53, 53)], (0,), 1.0, 0.0), 92, 92, 1.0)


RINGS = st.lists(st.tuples(st.floats(0, 60), st.floats(0, 60)), min_size=3, max_size=7).map(
    lambda points: shapely.MultiPoint(points).convex_hull
)


@settings(max_examples=60, deadline=None)
@given(RINGS, RINGS, st.floats(50, 90), st.floats(50, 90), st.integers(0, 10**6))
def test_no_place_is_found_for_two_parts_that_never_share_a_sheet(a, b, width, height, seed):
    if not all(shape.geom_type == "Polygon" and shape.area > 1 for shape in (a, b)):
        return
    cell, lots = 1.7, Lots(seed)
    lying = [ways([list(shape.exterior.coords)[:-1]], (0, 2), cell, 0.0) for shape in (a, b)]
    if can_lie_together(*lying, width, height, cell):
        return
    for _ in range(150):
        placed = [at_random(shape, width, height, lots) for shape in (a, b)]
        if all(placed):
            assert placed[0].intersection(placed[1]).area > 0


def at_random(shape, width, height, lots):
    turned = rotate(shape, 180 * lots.below(2), origin=(0, 0))
    left, low, right, high = turned.bounds
    if right - left > width or high - low > height:
        return None
    x = (width - right + left) * (lots.below(65) / 64)
    y = (height - high + low) * (lots.below(65) / 64)
    return translate(turned, x - left, y - low)


def test_parts_that_exclude_each_other_are_counted_once_for_each():
    assert most_apart([4, 1, 1], lambda a, b: {a, b} == {1, 2}) == 5
    assert most_apart([], lambda a, b: False) == 0
    assert most_apart([5], lambda a, b: True) == 1


@settings(max_examples=60, deadline=None)
@given(RINGS, st.integers(0, 10**6))
def test_the_rectangle_inside_lies_inside_somewhere_and_is_nearly_the_largest(shape, seed):
    if shape.geom_type != "Polygon" or shape.area < 50:
        return
    wide, high = largest_rectangle_inside([list(shape.exterior.coords)[:-1]])
    assert wide * high <= shape.area
    left, _, right, _ = shape.bounds
    places = [
        shapely.box(x, y, x + wide, y + high)
        for i in range(241)
        for x in [left + (right - left - wide) * i / 240]
        for y in [_lowest(shape, x, wide, high)]
        if y is not None
    ]
    grown = shape.buffer(0.35)
    assert any(grown.covers(place) for place in places)
    found = max((_sides_at(shape, seed + n) for n in range(40)), default=0)
    assert wide * high >= 0.8 * found


def _lowest(shape, x, wide, high):
    column = shape.intersection(shapely.box(x, -1e3, x + wide, 1e3))
    if column.is_empty:
        return None
    ends = [
        shape.intersection(shapely.LineString([(at, -1e3), (at, 1e3)])).bounds
        for at in (x, x + wide)
    ]
    lows = [end[1] for end in ends if len(end) == 4 and end[1] == end[1]]
    return max(lows, default=None)


def _sides_at(shape, seed):
    """Return the area of some rectangle inside, found by growing one round a point."""
    lots = Lots(seed)
    left, low, right, top = shape.bounds
    x, y = left + (right - left) * lots.below(100) / 99, low + (top - low) * lots.below(100) / 99
    half_w, half_h = (right - left) * lots.below(60) / 120, (top - low) * lots.below(60) / 120
    rectangle = shapely.box(x - half_w, y - half_h, x + half_w, y + half_h)
    return rectangle.area if shape.covers(rectangle) else 0
