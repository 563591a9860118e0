"""Fewer sheets by emptying them: nothing lost, nothing cut twice, exact where boxes are few."""

from collections import Counter
from functools import cache
from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from layout_judge import wrong_in_plan
from trimmer import wrong_when_cut

from dielines.packing.guillotine.fronts import Fronts, parted
from dielines.packing.guillotine.insertion import fewer_sheets
from dielines.packing.guillotine.method import guillotine_patterns
from dielines.packing.guillotine.questions import Questions
from dielines.packing.guillotine.shelves import guillotine_filler
from dielines.packing.order import Bed, Box, Order, Pattern, Plan, Work


@st.composite
def orders(draw, largest=60, most=6, limit=4):
    box = st.builds(Box, st.integers(1, largest), st.integers(1, largest), st.booleans())
    boxes = tuple(draw(st.lists(box, min_size=1, max_size=most)))
    counts = tuple(draw(st.integers(1, limit)) for _ in boxes)
    beds = [Bed(largest + draw(st.integers(0, 50)), largest + draw(st.integers(0, 50)), 7)]
    if draw(st.booleans()):
        side, price = largest + draw(st.integers(0, 50)), draw(st.integers(1, 9))
        beds.append(Bed(side, largest, price, draw(st.integers(0, 3)), True))
    return Order(boxes, counts, tuple(beds))


def plan_of(patterns):
    return Plan(tuple((pattern, 1) for pattern in patterns), 0)


@settings(max_examples=150, deadline=None)
@given(orders(), st.sampled_from([2, 3, None]))
def test_every_box_is_cut_exactly_once_within_the_stages(order, stages):
    patterns = guillotine_patterns(order, stages, Work(20_000))
    assert wrong_in_plan(order, plan_of(patterns)) == []
    assert [fault for p in patterns for fault in wrong_when_cut(order, p, stages)] == []


def one_on_each(order):
    filler = guillotine_filler(order, 3)
    kinds = [kind for kind, count in enumerate(order.counts) for _ in range(count)]
    return [Pattern(0, f.placed, f.cuts) for k in kinds for f in [filler([k], 0, Work(1))]]


@settings(max_examples=60, deadline=None)
@given(orders())
def test_it_never_costs_more_than_at_first(order):
    start = one_on_each(order)
    found = fewer_sheets(order, 3, start, 0, Work(10_000))
    assert wrong_in_plan(order, plan_of(found)) == []
    assert plan_of(found).price(order.beds) <= plan_of(start).price(order.beds)


def test_sheets_are_emptied_one_after_the_other_down_to_the_bound():
    """Eight halves and four quarters, one on each sheet at first: five sheets hold them."""
    order = Order((Box(50, 100), Box(50, 50)), (8, 4), (Bed(100, 100),))
    start = one_on_each(order)
    assert len(start) == 12
    assert len(fewer_sheets(order, 3, start, 0, Work(100_000))) == 5
    assert len(fewer_sheets(order, 3, start, 7, Work(100_000))) == 7
    assert fewer_sheets(order, 3, start, 0, Work(0)) == tuple(start)


def test_a_full_sheet_gives_up_small_boxes_for_a_large_one():
    """Only by swaps: a half leaves its sheet for two quarters of another one."""
    order = Order((Box(60, 100), Box(40, 50), Box(40, 40)), (2, 2, 2), (Bed(100, 100),))
    filler = guillotine_filler(order, 3)
    mixed = [filler(kinds, 0, Work(1)) for kinds in ([0, 1, 2], [0, 2], [1])]
    start = [Pattern(0, f.placed, f.cuts) for f in mixed]
    assert len(fewer_sheets(order, 3, start, 2, Work(100_000))) == 2


def test_a_load_moves_to_a_cheaper_sheet_while_there_are_some():
    order = Order((Box(20, 30),), (3,), (Bed(30, 30, 9), Bed(20, 30, 4, at_most=2)))
    found = fewer_sheets(order, 3, one_on_each(order), 0, Work(10_000))
    assert Counter(pattern.bed for pattern in found) == {1: 2, 0: 1}


def test_one_large_sheet_takes_the_place_of_two_and_a_small_one_that_of_a_large():
    """Sheets of 100 for 6 and of 200 for 9: two small loads go on a large one, and the last is small."""
    beds = (Bed(100, 100, 6), Bed(200, 100, 9))
    order = Order((Box(100, 70), Box(100, 30)), (3, 3), beds)
    found = fewer_sheets(order, 3, one_on_each(order), 15, Work(200_000))
    assert wrong_in_plan(order, plan_of(found)) == []
    assert Counter(pattern.bed for pattern in found) == {0: 1, 1: 1}


def test_no_more_sheets_of_a_kind_are_taken_than_there_are():
    beds = (Bed(100, 100, 6), Bed(200, 100, 7, at_most=1))
    order = Order((Box(100, 70), Box(100, 30)), (4, 4), beds)
    found = fewer_sheets(order, 3, one_on_each(order), 0, Work(100_000))
    assert wrong_in_plan(order, plan_of(found)) == []
    assert plan_of(found).price(beds) == 19


@settings(max_examples=100, deadline=None)
@given(orders(largest=6, most=4, limit=1), st.sampled_from([1, 2, 3]))
def test_a_front_says_no_only_where_there_is_no_way(order, stages):
    bag = tuple(range(len(order.boxes)))
    bed = Bed(8, 7)
    order = Order(order.boxes, order.counts, (bed,))
    block = Fronts(order, 0, stages).block(bag, Work(10**6))
    assert (block is not None) == can_be_cut(order, bag, bed.width, bed.height, stages)
    if block is not None:
        assert (block.width <= bed.width, block.height <= bed.height) == (True, True)
        assert block.stages <= stages


def can_be_cut(order, bag, width, height, stages):
    """Return the answer by trying all cuts at all units; a trim across the last way is free."""

    def lies(kind, wide, high):
        box = order.boxes[kind]
        turned = box.may_turn and box.height <= wide and box.width <= high
        return (box.width <= wide and box.height <= high) or turned

    @cache
    def cut(bag, wide, high, last, left):
        if len(bag) == 1:
            return lies(bag[0], wide, high)
        if sum(order.boxes[kind].area for kind in bag) > wide * high:
            return False
        for way, length in (("upright", wide), ("level", high)):
            rest = left - (way != last)
            for at in range(1, length if rest >= 0 else 0):
                one = (at, high) if way == "upright" else (wide, at)
                two = (wide - at, high) if way == "upright" else (wide, high - at)
                for near, far in in_two(bag):
                    if cut(near, *one, way, rest) and cut(far, *two, way, rest):
                        return True
        return False

    return cut(bag, width, height, None, stages)


def in_two(bag):
    for count in range(1, len(bag)):
        for near in combinations(bag, count):
            yield near, tuple(kind for kind in bag if kind not in near)


def test_a_set_is_parted_in_every_way_once():
    parts = list(parted((1, 2, 2, 3)))
    assert len(parts) == len(set(parts))
    assert {tuple(sorted(one + two)) for one, two in parts} == {(1, 2, 2, 3)}
    assert {two for _, two in parts} == {(2,), (3,), (2, 2), (2, 3), (2, 2, 3)}


@pytest.mark.parametrize("stages", [2, 3])
def test_six_boxes_that_only_three_stages_hold(stages):
    """Fillers alone do not find it: rows of 60 and 40, in the first a pile beside a tall box."""
    boxes = (Box(37, 60), Box(63, 31), Box(63, 29), Box(29, 40), Box(71, 23), Box(71, 17))
    order = Order(boxes, (1,) * 6, (Bed(100, 100),))
    assert Questions(order, stages).fits(tuple(range(6)), 0, Work(10**6)) == (stages == 3)


def test_the_same_question_is_answered_from_memory():
    order = Order((Box(37, 60), Box(63, 31)), (2, 2), (Bed(100, 100),))
    questions, first, second = Questions(order, 3), Work(10**6), Work(10**6)
    questions.fits((0, 0, 1), 0, first)
    questions.fits((0, 0, 1), 0, second)
    assert second.spent == 1 < first.spent


@pytest.mark.parametrize(("boxes", "size", "stages"), [
    ([(1, 9), (3, 5), (7, 4), (6, 5)], (12, 9), 2),
    ([(8, 5), (1, 5), (4, 9), (3, 7), (4, 1)], (8, 15), 3),
    ([(2, 7), (3, 2), (9, 6), (2, 5), (8, 3)], (9, 16), 2),
    ([(6, 6), (7, 7), (6, 9), (6, 1), (9, 4), (2, 3)], (16, 15), 2),
])  # fmt: skip
def test_a_larger_rectangle_with_fewer_stages_stays_in_the_front(boxes, size, stages):
    """Found by chance; where only width and height counted, none of these would fit."""
    order = Order(tuple(Box(*box) for box in boxes), (1,) * len(boxes), (Bed(*size),))
    assert Fronts(order, 0, stages).block(tuple(range(len(boxes))), Work(10**6)) is not None
