"""From mixtures to whole sheets: what is rounded, dived for and improved places exactly the order."""

import pytest
from kit_albums import album, bed
from layout_judge import wrong_in_plan

from dielines.packing.diving import dived
from dielines.packing.first_answer import first_runs
from dielines.packing.free import free_method
from dielines.packing.generation import quickly_generated
from dielines.packing.guillotine.method import guillotine_method
from dielines.packing.lying import NoRoom
from dielines.packing.order import Bed, Box, Method, Order, Pattern, Placed, Plan, Work
from dielines.packing.rounding import (
    fewer_patterns,
    holds,
    price_of,
    remainder,
    rounded_down,
    whole_runs,
)
from dielines.packing.single_sheets import MOST_SHEETS, singly_improved

ENOUGH = 10**7


def made(order):
    start = [pattern for pattern, _ in first_runs(order, free_method(order).fillers, Work(ENOUGH))]
    return quickly_generated(order, free_method(order), start, Work(ENOUGH))


@pytest.mark.parametrize("copies", [1, 7])
def test_every_way_of_rounding_places_exactly_the_order(copies):
    order = album(8, copies, [bed(price=3), bed(long=24, price=5, at_most=4)])
    method, found = free_method(order), made(order)
    for runs in (
        whole_runs(order, found.patterns, Work(ENOUGH)),
        rounded_down(order, method.fillers, found.patterns, Work(ENOUGH)),
        dived(order, method, found.patterns, Work(ENOUGH)),
        dived(order, method, found.patterns, Work(0)),
    ):
        assert wrong_in_plan(order, Plan(tuple(runs), 0)) == []
        assert price_of(order, runs) >= found.prices.value - 1e-6


def test_diving_reaches_what_rounding_a_mixture_misses():
    order = album(10, 1, [bed(long=24)])
    method = guillotine_method(order, 3)
    start = [pattern for pattern, _ in first_runs(order, method.fillers, Work(ENOUGH))]
    found = quickly_generated(order, method, start, Work(ENOUGH))
    rounded = rounded_down(order, method.fillers, found.patterns, Work(ENOUGH))
    dive = dived(order, method, found.patterns, Work(ENOUGH))
    assert price_of(order, dive) == 9
    assert price_of(order, rounded) == 10


def test_fewer_different_sheets_cost_the_same():
    box = Order((Box(3, 9), Box(5, 9)), (8, 8), (Bed(10, 9),))
    one = Pattern(0, (Placed(0, 0, 0), Placed(1, 3, 0)))
    apart = (Pattern(0, (Placed(0, 0, 0), Placed(0, 3, 0))), Pattern(0, (Placed(1, 0, 0),) * 2))
    runs = [(apart[0], 4), (apart[1], 4)]
    assert fewer_patterns(box, [*apart, one], runs, Work(ENOUGH)) == [(one, 8)]
    assert fewer_patterns(box, apart, runs, Work(ENOUGH)) == runs


def test_what_is_left_counts_boxes_and_sheets():
    order = Order((Box(3, 9), Box(5, 9)), (9, 7), (Bed(10, 9), Bed(8, 9, at_most=3)))
    runs = [(Pattern(1, (Placed(0, 0, 0), Placed(1, 3, 0))), 2)]
    rest = remainder(order, runs)
    assert rest.counts == (7, 5)
    assert [left.at_most for left in rest.beds] == [None, 1]
    assert not holds(order, runs)
    assert not holds(order, [(runs[0][0], 9)]), "more sheets than there are"


def test_too_few_sheets_are_told():
    order = Order((Box(3, 9),), (9,), (Bed(10, 9, at_most=2),))
    with pytest.raises(NoRoom):
        first_runs(order, free_method(order).fillers, Work(ENOUGH))


@pytest.mark.parametrize("copies", [1, 24])
def test_single_sheets_are_given_to_be_improved_and_only_better_ones_are_taken(copies):
    order = album(8, copies)
    runs = first_runs(order, free_method(order).fillers, Work(ENOUGH))
    asked = []

    def improver(part, sheets, bound, work):
        asked.append((sum(part.counts), sum(len(sheet.placed) for sheet in sheets), bound))
        return sheets[1:]

    method = Method(free_method(order).fillers, (), None, improver)
    assert singly_improved(order, method, runs, 0, Work(ENOUGH)) == runs, "boxes were lost"
    boxes, on_sheets, bound = asked[0]
    assert boxes == on_sheets
    assert bound == min(0, MOST_SHEETS - price_of(order, runs))
    assert singly_improved(order, method, runs, 0, Work(0)) == runs
    assert len(asked) == 1
