"""The first answer, sheet by sheet, judged by code that shares nothing with it."""

from collections import Counter

import pytest
from layout_judge import wrong_in_plan

from dielines.packing.free import free_fillers
from dielines.packing.greedy import Largest, greedy_patterns, largest_first, price_of
from dielines.packing.lots import Lots
from dielines.packing.lying import NoRoom
from dielines.packing.order import Bed, Box, Order, Plan, Work


def answer(order, work=10**9, bound=0):
    kinds = [kind for kind, count in enumerate(order.counts) for _ in range(count)]
    found = greedy_patterns(order, free_fillers(order), kinds, Work(work), bound)
    assert wrong_in_plan(order, Plan(tuple((pattern, 1) for pattern in found), 0)) == []
    return found


def test_a_hundred_orders_with_several_sizes_of_sheet_are_complete():
    for seed in range(100):
        lots = Lots(seed)
        beds = (
            Bed(60, 60, 80),
            Bed(20 + lots.below(70), 20 + lots.below(70), lots.below(90), 1 + lots.below(3)),
        )
        boxes = tuple(Box(1 + lots.below(58), 1 + lots.below(58), True) for _ in range(9))
        answer(Order(boxes, tuple(1 + lots.below(6) for _ in boxes), beds), work=lots.below(500))


def test_the_orders_of_boxes_are_what_their_names_say_and_equal_ones_go_by_number():
    boxes = (Box(9, 3), Box(6, 6), Box(3, 9), Box(10, 1))
    order = Order(boxes, (1,) * 4, (Bed(20, 20),))
    assert largest_first(order, Largest.AREA) == (1, 0, 2, 3)
    assert largest_first(order, Largest.LONG_SIDE) == (3, 0, 2, 1)
    assert largest_first(order, Largest.SHORT_SIDE) == (1, 0, 2, 3)
    assert largest_first(order, Largest.BOTH_SIDES) == (1, 0, 2, 3)


def test_a_kit_of_thousands_costs_little_more_work_than_one_copy():
    boxes = (Box(7, 5), Box(11, 3), Box(4, 9))
    few, many = Work(10**9), Work(10**9)
    bed = (Bed(23, 19),)
    fillers = free_fillers(Order(boxes, (8, 8, 8), bed))
    greedy_patterns(Order(boxes, (8, 8, 8), bed), fillers, [0, 1, 2] * 8, few)
    found = greedy_patterns(Order(boxes, (800,) * 3, bed), fillers, [0, 1, 2] * 800, many)
    assert len(found) > 100
    assert many.spent < 10 * few.spent


def test_what_is_left_at_last_goes_on_the_cheapest_sheet_that_holds_it():
    order = Order((Box(7, 5),), (5,), (Bed(14, 10, 80), Bed(8, 6, 30), Bed(9, 6, 35)))
    found = answer(order)
    assert Counter(pattern.bed for pattern in found) == {0: 1, 1: 1}
    assert price_of(order, found) == 110


def test_all_that_is_left_goes_on_one_sheet_though_another_gives_more_for_its_price():
    order = Order((Box(6, 10), Box(2, 1)), (1, 1), (Bed(6, 10, 40), Bed(10, 10, 42)))
    assert price_of(order, answer(order)) == 42


def test_offcuts_that_cost_nothing_are_used_first_and_no_more_than_there_are():
    order = Order((Box(7, 5),), (8,), (Bed(14, 10, 80), Bed(8, 6, 0, at_most=2)))
    assert Counter(pattern.bed for pattern in answer(order)) == {0: 2, 1: 2}


def test_boxes_that_the_sheets_left_cannot_hold_are_named():
    order = Order((Box(7, 5), Box(2, 2)), (3, 1), (Bed(8, 6, at_most=2), Bed(3, 3)))
    with pytest.raises(NoRoom) as caught:
        answer(order)
    assert caught.value.kinds == (0,)


def test_the_first_answer_is_finished_without_any_work_and_the_others_are_not_tried():
    order = Order((Box(7, 5),), (8,), (Bed(14, 10),))
    work = Work(0)
    assert len(greedy_patterns(order, free_fillers(order), [0] * 8, work)) == 2
    once = work.spent
    full = Work(10**9)
    greedy_patterns(order, free_fillers(order), [0] * 8, full)
    assert full.spent > 4 * once


def test_nothing_more_is_tried_once_the_bound_is_met():
    order, work, none = Order((Box(7, 5),), (8,), (Bed(14, 10),)), Work(10**9), Work(0)
    greedy_patterns(order, free_fillers(order), [0] * 8, work, 2)
    greedy_patterns(order, free_fillers(order), [0] * 8, none)
    assert work.spent == none.spent
