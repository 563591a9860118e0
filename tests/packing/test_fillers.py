"""Both fillers on sheets drawn by lot, judged by code that shares nothing with them."""

import pytest
from layout_judge import wrong_on_sheet

from dielines.packing.free_rectangles import Rule, free_rectangle_filler
from dielines.packing.lots import Lots
from dielines.packing.order import Bed, Box, Order, Pattern, Work
from dielines.packing.skyline import skyline_filler

FILLERS = {
    "skyline": skyline_filler,
    "tightest": free_rectangle_filler,
    "lowest": lambda order: free_rectangle_filler(order, Rule.LOWEST),
}


@pytest.fixture(params=FILLERS, name="filler_of")
def _filler_of(request):
    return FILLERS[request.param]


def drawn_by_lot(seed):
    """Return an order with one or two beds and up to 30 boxes, some too large for a bed."""
    lots = Lots(seed)
    beds = tuple(
        Bed(7 + lots.below(90), 7 + lots.below(90), turns_all=lots.below(4) == 0)
        for _ in range(1 + lots.below(2))
    )
    most = 3 + lots.below(60)
    boxes = tuple(
        Box(1 + lots.below(most), 1 + lots.below(most), lots.below(2) == 0)
        for _ in range(1 + lots.below(12))
    )
    return Order(boxes, tuple(1 + lots.below(4) for _ in boxes), beds), lots


def test_a_thousand_sheets_hold_boxes_that_do_not_overlap_turn_or_leave_the_sheet(filler_of):
    for seed in range(1000):
        order, lots = drawn_by_lot(seed)
        kinds = lots.shuffled([k for k, n in enumerate(order.counts) for _ in range(n)])
        for bed in range(len(order.beds)):
            filled = filler_of(order)(kinds, bed, Work(10**9))
            assert wrong_on_sheet(order, Pattern(bed, filled.placed)) == [], seed
            left = [kinds[place] for place in filled.left]
            assert sorted([box.kind for box in filled.placed] + left) == sorted(kinds), seed
            assert list(filled.left) == sorted(set(filled.left)), seed


def test_a_box_that_fits_the_empty_sheet_is_never_left_when_it_comes_alone(filler_of):
    order = Order(
        (Box(37, 11), Box(11, 37), Box(11, 37, True), Box(38, 1)), (1,) * 4, (Bed(37, 11),)
    )
    work = Work(10**9)
    fits = [bool(filler_of(order)([kind], 0, work).placed) for kind in range(4)]
    assert fits == [True, False, True, False]


def test_a_sheet_without_grain_lets_every_box_turn(filler_of):
    order = Order((Box(11, 37),), (1,), (Bed(37, 11, turns_all=True),))
    assert filler_of(order)([0], 0, Work(10**9)).placed[0].quarters == 1


def test_seven_strips_fill_a_sheet_without_a_unit_to_spare(filler_of):
    order = Order((Box(3, 14),), (8,), (Bed(21, 14),))
    assert filler_of(order)([0] * 8, 0, Work(10**9)).left == (7,)


def test_the_work_is_counted(filler_of):
    order, few, many = Order((Box(3, 5),), (400,), (Bed(100, 100),)), Work(10**9), Work(10**9)
    filler_of(order)([0] * 4, 0, few)
    filler_of(order)([0] * 400, 0, many)
    assert 0 < 20 * few.spent < many.spent


def test_the_skyline_takes_the_box_that_fills_the_gap_before_one_that_comes_earlier():
    order = Order((Box(4, 9), Box(7, 3), Box(10, 1)), (1, 1, 1), (Bed(10, 10),))
    placed = skyline_filler(order)([0, 1, 2], 0, Work(10**9)).placed
    assert [box.kind for box in placed] == [2, 0]


def test_the_skyline_puts_a_box_that_meets_nothing_at_the_higher_wall():
    order = Order((Box(5, 10), Box(6, 3)), (1, 1), (Bed(20, 20),))
    placed = skyline_filler(order)([0, 1], 0, Work(10**9)).placed
    assert [(box.x, box.y) for box in placed] == [(0, 0), (14, 0)]


@pytest.mark.parametrize("rule", Rule)
def test_what_is_free_below_above_and_beside_a_box_is_used(rule):
    """Below the long box there is room beside the tall one, and above it for another long one."""
    order = Order((Box(5, 10), Box(20, 5), Box(15, 10)), (1, 2, 1), (Bed(20, 20),))
    assert free_rectangle_filler(order, rule)([0, 1, 2, 1], 0, Work(10**9)).left == ()
