"""Outlines put onto one sheet."""

from hypothesis import given, settings
from hypothesis import strategies as st
from notched_album import GAP, notched_album, parts
from outline_judge import wrong_on_outline_sheet, wrong_turns

from dielines.packing.cells import Shape
from dielines.packing.order import Bed, Box, Order, Pattern, Work
from dielines.packing.outlines.filler import outline_filler
from dielines.packing.outlines.rings import shape_of_rings


def order_for(rings_by_kind, cell, gap, quarters, bed):
    """Return the order and the shapes of outlines, one of each."""
    shapes = tuple(shape_of_rings(rings, cell, gap, quarters) for rings in rings_by_kind)
    boxes = tuple(Box(s.lying[0][1].width, s.lying[0][1].height, True) for s in shapes)
    return Order(boxes, (1,) * len(boxes), (bed,)), shapes


def square(side, x=0.0, y=0.0):
    return [(x, y), (x + side, y), (x + side, y + side), (x, y + side)]


FRAME = [square(20), square(10, 5, 5)]


def test_a_small_part_lies_in_the_window_of_a_large_one():
    order, shapes = order_for([FRAME, [square(8)]], 1, 1, (0,), Bed(21, 21))
    found = outline_filler(order, shapes)([0, 1], 0, Work(0))
    assert found.left == ()
    assert [(p.x, p.y) for p in found.placed] == [(0, 0), (6, 6)]


def test_a_part_that_leaves_no_gap_in_a_window_finds_no_room():
    order, shapes = order_for([FRAME, [square(9)]], 1, 1, (0,), Bed(21, 21))
    assert outline_filler(order, shapes)([0, 1], 0, Work(0)).left == (1,)


def test_a_part_lies_in_the_notch_of_another():
    hook = [[(0, 0), (10, 0), (10, 3), (3, 3), (3, 10), (0, 10)]]
    order, shapes = order_for([hook, [square(6)]], 1, 1, (0,), Bed(11, 11))
    found = outline_filler(order, shapes)([0, 1, 1], 0, Work(0))
    assert [(p.kind, p.x, p.y) for p in found.placed] == [(0, 0, 0), (1, 4, 4)]
    assert found.left == (2,)


def test_two_hooks_interlock_where_their_boxes_could_not():
    hook = [[(0, 0), (10, 0), (10, 3), (3, 3), (3, 10), (0, 10)]]
    order, shapes = order_for([hook], 1, 1, (0, 2), Bed(15, 15))
    found = outline_filler(order, shapes)([0, 0], 0, Work(0))
    assert found.left == ()
    assert wrong_on_outline_sheet([hook], order, Pattern(0, found.placed), 1, 1) == []


def test_a_part_takes_the_turn_in_which_its_upper_edge_is_lowest():
    bar = [(0, 0), (3, 0), (3, 9), (0, 9)]
    order, shapes = order_for([[bar]], 1, 0, (0, 1), Bed(20, 20))
    found = outline_filler(order, shapes)([0, 0, 0], 0, Work(0))
    assert [(p.x, p.y, p.quarters) for p in found.placed] == [(0, 0, 1), (9, 0, 1), (0, 3, 1)]


def test_positions_left_are_those_in_the_list():
    order, shapes = order_for([[square(7)], [square(30)], [square(2)]], 1, 0, (0,), Bed(10, 10))
    assert outline_filler(order, shapes)([1, 0, 0, 2, 1], 0, Work(0)).left == (0, 2, 4)


def test_each_sheet_has_its_own_size():
    order, shapes = order_for([[square(7)]], 1, 0, (0,), Bed(10, 10))
    order = Order(order.boxes, order.counts, (Bed(6, 9), Bed(7, 7)))
    fill = outline_filler(order, shapes)
    assert [fill([0], bed, Work(0)).left for bed in (0, 1)] == [(0,), ()]


def test_an_album_with_notches_lies_apart_by_the_gap():
    order, shapes = notched_album(4, 1, 24)
    rings = [[[(x * 16, y * 16) for x, y in ring]] for ring, _, _ in parts(4)]
    kinds = [kind for kind, count in enumerate(order.counts) for _ in range(count)]
    found = outline_filler(order, shapes)(kinds, 0, Work(0))
    pattern = Pattern(0, found.placed)
    assert len(found.placed) > 10
    assert wrong_on_outline_sheet(rings, order, pattern, 1, GAP) == []
    assert wrong_turns(shapes, order, pattern) == []


@st.composite
def tapered_parts(draw):
    """Draw outlines with slanting sides and sizes in thirds and sevenths of a unit."""
    wide, high = draw(st.integers(9, 70)) / 3, draw(st.integers(9, 70)) / 7
    taper = draw(st.integers(0, 3)) * wide / 7
    ring = [(0, 0), (wide, 0), (wide - taper, high), (taper, high)]
    has_window = draw(st.booleans()) and taper == 0
    window = [
        (wide / 3, high / 3),
        (wide / 2, high / 3),
        (wide / 2, high / 2),
        (wide / 3, high / 2),
    ]
    return [ring, window] if has_window else [ring]


@settings(max_examples=60)
@given(
    st.lists(tapered_parts(), min_size=1, max_size=6),
    st.sampled_from([0.5, 4 / 7, 1.0]),
    st.sampled_from([0.0, 1 / 3, 1.0]),
    st.lists(st.integers(0, 99), min_size=1, max_size=30),
)
def test_parts_with_slanting_sides_lie_apart_by_the_gap(kinds, cell, gap, numbers):
    order, shapes = order_for(kinds, cell, gap, (0, 1, 2, 3), Bed(60, 60))
    listed = [number % len(kinds) for number in numbers]
    found = outline_filler(order, shapes)(listed, 0, Work(0))
    assert wrong_on_outline_sheet(kinds, order, Pattern(0, found.placed), cell, gap) == []
    assert len(found.placed) + len(found.left) == len(listed)
    assert all(isinstance(shape, Shape) for shape in shapes)
