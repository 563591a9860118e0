"""Fast fillers: what they place can be cut, and what they leave is told."""

from collections import Counter

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from layout_judge import wrong_on_sheet
from trimmer import wrong_when_cut

from dielines.packing.guillotine.shelves import guillotine_filler
from dielines.packing.order import Bed, Box, Order, Pattern, Work

STAGES = st.sampled_from([1, 2, 3, 4, None])


@st.composite
def orders(draw, most=8):
    width, height = draw(st.integers(1, 97)), draw(st.integers(1, 97))
    box = st.builds(Box, st.integers(1, 60), st.integers(1, 60), st.booleans())
    boxes = draw(st.lists(box, min_size=1, max_size=most))
    counts = draw(st.lists(st.integers(0, 5), min_size=len(boxes), max_size=len(boxes)))
    return Order(tuple(boxes), tuple(counts), (Bed(width, height, turns_all=draw(st.booleans())),))


def listed(order):
    return [kind for kind, count in enumerate(order.counts) for _ in range(count)]


@settings(max_examples=300, deadline=None)
@given(orders(), STAGES)
def test_what_is_placed_can_be_cut_within_the_stages(order, stages):
    kinds = listed(order)
    placed, left, cuts = guillotine_filler(order, stages)(kinds, 0, Work(10**6))
    pattern = Pattern(0, placed, cuts)
    assert wrong_on_sheet(order, pattern) == []
    assert wrong_when_cut(order, pattern, stages) == []
    assert Counter(kinds) == Counter(box.kind for box in placed) + Counter(kinds[i] for i in left)
    assert sorted(set(left)) == list(left)


def fill(order, stages):
    return guillotine_filler(order, stages)(listed(order), 0, Work(10**6))


def test_a_board_of_equal_boxes_is_filled_in_two_stages_but_not_in_one():
    order = Order((Box(7, 11),), (12,), (Bed(21, 44),))
    assert fill(order, 2).left == ()
    assert len(fill(order, 1).left) == 8


def test_boxes_with_grain_stay_as_they_lie_and_free_ones_turn():
    bed = Bed(13, 5)
    assert fill(Order((Box(5, 13),), (1,), (bed,)), 3).left == (0,)
    assert fill(Order((Box(5, 13, True),), (1,), (bed,)), 3).left == ()
    assert fill(Order((Box(5, 13),), (1,), (bed._replace(turns_all=True),)), 3).left == ()


@pytest.mark.parametrize(("stages", "left"), [(2, 1), (3, 0)])
def test_a_pile_in_a_row_needs_the_third_stage(stages, left):
    """A box as high as the sheet, one beside it, and a pile of two widths, all in one row."""
    order = Order((Box(5, 30), Box(4, 17), Box(4, 13)), (1, 2, 2), (Bed(17, 30),))
    # in two stages: upright cuts make columns 5, 4 and 4; level cuts part the columns
    assert fill(order, 2).left == ()
    narrow = Order((Box(17, 6), Box(5, 30), Box(4, 17), Box(4, 13)), (1, 1, 2, 2), (Bed(17, 36),))
    assert len(fill(narrow, stages).left) >= left
    assert (len(fill(narrow, stages).left) == 0) == (stages == 3)


def test_work_is_counted_by_kinds_and_pieces():
    few, many = Work(10**6), Work(10**6)
    order = Order((Box(7, 11), Box(5, 3, True)), (3, 9), (Bed(40, 44),))
    filler = guillotine_filler(order, 3)
    filler([0], 0, few)
    filler(listed(order), 0, many)
    assert 0 < few.spent < many.spent
