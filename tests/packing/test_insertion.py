"""Sheets emptied one by one, on orders drawn by lot and on some whose answer is known."""

from collections import Counter

import pytest
from layout_judge import wrong_in_plan

from dielines.packing.bounds import dff_bound
from dielines.packing.free import free_fillers, free_improver, free_method, free_patterns
from dielines.packing.greedy import greedy_patterns, price_of
from dielines.packing.insertion import improved
from dielines.packing.lots import Lots
from dielines.packing.lying import NoRoom
from dielines.packing.order import Bed, Box, Order, Pattern, Placed, Plan, Work

WORK = 20_000


def as_plan(patterns):
    return Plan(tuple((pattern, 1) for pattern in patterns), 0)


def drawn_by_lot(seed):
    """Return an order with beds of one to three sizes, some of them few."""
    lots = Lots(seed)
    beds = [Bed(40 + lots.below(60), 40 + lots.below(60), 50 + lots.below(60))]
    for _ in range(lots.below(3)):
        at_most = None if lots.below(2) else 1 + lots.below(3)
        beds.append(Bed(20 + lots.below(60), 20 + lots.below(60), lots.below(70), at_most))
    boxes = tuple(
        Box(1 + lots.below(38), 1 + lots.below(38), lots.below(2) == 0)
        for _ in range(2 + lots.below(12))
    )
    return Order(boxes, tuple(1 + lots.below(5) for _ in boxes), tuple(beds))


def listed(order):
    return [kind for kind, count in enumerate(order.counts) for _ in range(count)]


def test_hundreds_of_orders_keep_every_box_and_never_grow_dearer():
    cheaper = 0
    for seed in range(300):
        order = drawn_by_lot(seed)
        fillers, bound = free_fillers(order), dff_bound(order)
        first = greedy_patterns(order, fillers[:1], listed(order), Work(1), bound)
        found = improved(order, fillers, first, bound, Work(2000))
        assert wrong_in_plan(order, as_plan(first)) == [], seed
        assert wrong_in_plan(order, as_plan(found)) == [], seed
        assert bound <= price_of(order, found) <= price_of(order, first), seed
        cheaper += price_of(order, found) < price_of(order, first)
    assert cheaper > 20


def test_a_box_on_a_sheet_of_its_own_moves_to_one_that_has_room():
    order = Order((Box(7, 5), Box(4, 3)), (2, 1), (Bed(15, 9),))
    apart = (Pattern(0, (Placed(0, 0, 0), Placed(0, 7, 0))), Pattern(0, (Placed(1, 0, 0),)))
    assert len(improved(order, free_fillers(order), apart, 1, Work(WORK))) == 1


def test_lighter_boxes_make_way_for_one_that_found_no_room():
    """Both sheets can be full only if the 10 x 7 leaves the one that it lies on."""
    order = Order((Box(10, 7), Box(10, 3), Box(10, 6), Box(10, 4)), (1, 1, 1, 1), (Bed(10, 10),))
    apart = (
        Pattern(0, (Placed(0, 0, 0),)),
        Pattern(0, (Placed(2, 0, 0), Placed(1, 0, 6))),
        Pattern(0, (Placed(3, 0, 0),)),
    )
    found = improved(order, free_fillers(order), apart, 2, Work(WORK))
    assert Counter(frozenset(box.kind for box in pattern.placed) for pattern in found) == Counter(
        [frozenset({0, 1}), frozenset({2, 3})]
    )


def test_a_light_box_grows_heavier_until_others_make_way():
    """5 + 4, 5 + 4 and 2 on sheets 10 high: the 2 weighs least, and has to move the others."""
    order = Order((Box(10, 5), Box(10, 4), Box(10, 2)), (2, 2, 1), (Bed(10, 10),))
    pair = Pattern(0, (Placed(0, 0, 0), Placed(1, 0, 5)))
    found = improved(
        order, free_fillers(order), (pair, pair, Pattern(0, (Placed(2, 0, 0),))), 2, Work(WORK)
    )
    assert sorted(sorted(box.kind for box in pattern.placed) for pattern in found) == [
        [0, 0],
        [1, 1, 2],
    ]


def test_boxes_move_to_a_cheaper_sheet_that_holds_them():
    order = Order((Box(7, 5),), (2,), (Bed(20, 20, 90), Bed(7, 11, 40), Bed(9, 12, 50)))
    dear = (Pattern(0, (Placed(0, 0, 0), Placed(0, 7, 0))),)
    (found,) = improved(order, free_fillers(order), dear, 0, Work(12))
    assert found.bed == 1


def test_no_more_offcuts_are_taken_than_there_are():
    order = Order((Box(7, 5),), (3,), (Bed(8, 8, 90), Bed(7, 5, 10, at_most=2)))
    dear = tuple(Pattern(0, (Placed(0, 0, 0),)) for _ in range(3))
    found = improved(order, free_fillers(order), dear, 0, Work(WORK))
    assert Counter(pattern.bed for pattern in found) == {0: 1, 1: 2}


def test_a_sheet_is_given_up_for_a_cheaper_one_that_could_not_hold_what_it_held():
    """The two boxes 5 high come together, so that the one 4 high is alone."""
    beds = (Bed(10, 10, 100), Bed(10, 4, 45))
    order = Order((Box(10, 5), Box(10, 4)), (2, 1), beds)
    dear = (Pattern(0, (Placed(0, 0, 0), Placed(1, 0, 5))), Pattern(0, (Placed(0, 0, 0),)))
    assert price_of(order, improved(order, free_fillers(order), dear, 0, Work(WORK))) == 145


def test_it_ends_at_once_when_the_work_was_stopped():
    order = Order((Box(7, 5), Box(4, 3)), (2, 1), (Bed(15, 9),))
    apart = (Pattern(0, (Placed(0, 0, 0), Placed(0, 7, 0))), Pattern(0, (Placed(1, 0, 0),)))
    work = Work(WORK)
    work.stop()
    assert improved(order, free_fillers(order), apart, 1, work) == apart


def test_the_same_order_gives_the_same_sheets_and_no_more_work_than_is_allowed():
    order = drawn_by_lot(11)
    works = Work(WORK), Work(WORK)
    first, second = (free_patterns(order, work) for work in works)
    assert first == second
    assert works[0].spent == works[1].spent < 2 * WORK


def test_what_no_sheet_can_hold_is_refused():
    order = Order((Box(7, 5),), (3,), (Bed(7, 5, 10, at_most=2),))
    with pytest.raises(NoRoom) as caught:
        free_patterns(order, Work(WORK))
    assert caught.value.kinds == (0,)


def test_the_method_improves_single_sheets():
    order = Order((Box(7, 5), Box(4, 3)), (2, 1), (Bed(15, 9),))
    apart = (Pattern(0, (Placed(0, 0, 0), Placed(0, 7, 0))), Pattern(0, (Placed(1, 0, 0),)))
    assert len(free_method(order).improver(order, apart, 1, Work(WORK))) == 1


def cut_up(seed):
    """Return an order of 17 boxes into which one sheet was cut by lot, each once."""
    lots, pieces = Lots(seed), [(60, 60)]
    while len(pieces) < 17:
        wide, high = pieces.pop(lots.below(len(pieces)))
        at = 1 + lots.below(max(wide, high))
        halves = ((at, high), (wide - at, high)) if wide > high else ((wide, at), (wide, high - at))
        pieces += [half for half in halves if min(half)]
    return Order(tuple(Box(*piece, True) for piece in pieces), (1,) * 17, (Bed(60, 60),))


def test_sheets_of_many_boxes_are_filled_with_patience_where_the_fillers_fail():
    patient = hasty = 0
    for seed in range(12):
        order = cut_up(seed)
        fillers = free_fillers(order)
        first = greedy_patterns(order, fillers[:1], listed(order), Work(1))
        hasty += len(improved(order, fillers, first, 1, Work(30_000)))
        patient += len(free_improver(order)(order, first, 1, Work(30_000)))
    assert patient < hasty
