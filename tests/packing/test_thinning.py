"""Boxes taken off patterns, and runs that place exactly what is ordered."""

import random

from layout_judge import wrong_in_plan, wrong_on_sheet

from dielines.packing.order import Bed, Box, Cut, Leaf, Order, Pattern, Placed, Plan, Way
from dielines.packing.thinning import exactly, joined, surplus, without

ORDER = Order((Box(3, 7), Box(2, 7)), (5, 4), (Bed(11, 7),))
CUTS = Cut(
    Way.UPRIGHT,
    3,
    Leaf(0),
    Cut(Way.UPRIGHT, 3, Leaf(0), Cut(Way.UPRIGHT, 2, Leaf(1), Leaf(None))),
)
PATTERN = Pattern(0, (Placed(0, 0, 0), Placed(0, 3, 0), Placed(1, 6, 0)), CUTS)


def leaves(piece, x=0, y=0):
    """Return the boxes in a tree of cuts, with their places."""
    if isinstance(piece, Leaf):
        return [] if piece.kind is None else [(piece.kind, x, y)]
    right, up = (piece.at, 0) if piece.way is Way.UPRIGHT else (0, piece.at)
    return leaves(piece.near, x, y) + leaves(piece.far, x + right, y + up)


def test_a_box_taken_off_is_taken_from_the_cuts_as_well():
    fewer = without(PATTERN, (1, 0))
    assert fewer.counts(2) == (1, 1)
    assert sorted(leaves(fewer.cuts)) == sorted((box.kind, box.x, box.y) for box in fewer.placed)


def test_cuts_between_offcuts_are_left_out():
    assert without(PATTERN, (1, 1)).cuts == Cut(Way.UPRIGHT, 3, Leaf(0), Leaf(None))
    assert without(PATTERN, (2, 1)).cuts == Leaf(None)


def test_a_pattern_of_which_nothing_is_taken_stays_the_same():
    assert without(PATTERN, (0, 0)) is PATTERN


def test_equal_patterns_are_told_once_whatever_the_order_of_their_boxes():
    mirrored = Pattern(0, PATTERN.placed[::-1], CUTS)
    assert joined([(PATTERN, 2), (Pattern(0, ()), 7), (mirrored, 3), (PATTERN, 0)]) == [
        (PATTERN, 5)
    ]


def test_the_same_places_on_another_kind_of_sheet_are_another_pattern():
    assert len(joined([(PATTERN, 2), (Pattern(1, PATTERN.placed), 3)])) == 2


def test_surplus_counts_what_is_too_much_and_what_lacks():
    assert surplus(ORDER, [(PATTERN, 3)]) == [1, -1]


def test_plans_are_thinned_to_what_is_ordered_on_no_more_sheets():
    draw = random.Random(5)
    for _ in range(200):
        kinds = draw.randint(1, 4)
        boxes = tuple(Box(draw.randint(1, 3), 5) for _ in range(kinds))
        runs = []
        for _ in range(draw.randint(1, 5)):
            x, placed = 0, []
            while x < 10:
                kind = draw.randrange(kinds)
                placed.append(Placed(kind, x, 0))
                x += boxes[kind].width
            runs.append((Pattern(0, tuple(placed)), draw.randint(0, 9)))
        there = [sum(p.counts(kinds)[kind] * n for p, n in runs) for kind in range(kinds)]
        order = Order(boxes, tuple(draw.randint(0, n) for n in there), (Bed(13, 5),))
        found = exactly(order, runs)
        assert wrong_in_plan(order, Plan(tuple(found), 0)) == []
        assert sum(n for _, n in found) <= sum(n for _, n in runs)
        assert len(found) <= len(runs) + 2 * kinds


def test_a_kind_that_is_too_many_on_every_sheet_of_a_run_leaves_the_run_whole():
    order = Order(ORDER.boxes, (14, 0), ORDER.beds)
    assert [n for _, n in exactly(order, [(PATTERN, 7)])] == [7]
    assert wrong_on_sheet(order, exactly(order, [(PATTERN, 7)])[0][0]) == []
