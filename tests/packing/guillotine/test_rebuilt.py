"""Cuts found again from places, and patterns put in the order of a person."""

from collections import Counter
from dataclasses import replace

from hypothesis import given, settings
from hypothesis import strategies as st
from layout_judge import wrong_on_sheet
from trimmer import wrong_when_cut

from dielines.packing.guillotine.rebuilt import tidied
from dielines.packing.guillotine.shelves import guillotine_filler
from dielines.packing.order import Bed, Box, Order, Pattern, Placed, Work

#: four mats around a hole: no cut from edge to edge parts them
PINWHEEL = (Placed(0, 0, 0), Placed(0, 6, 0, 1), Placed(0, 4, 6), Placed(0, 0, 4, 1))


@st.composite
def orders(draw):
    box = st.builds(Box, st.integers(1, 60), st.integers(1, 60), st.booleans())
    boxes = tuple(draw(st.lists(box, min_size=1, max_size=8)))
    counts = tuple(draw(st.integers(0, 5)) for _ in boxes)
    return Order(boxes, counts, (Bed(draw(st.integers(1, 97)), draw(st.integers(1, 97))),))


@settings(max_examples=200, deadline=None)
@given(orders(), st.sampled_from([2, 3, None]), st.booleans(), st.data())
def test_any_part_of_a_pattern_is_cut_again(order, stages, forget, data):
    kinds = [kind for kind, count in enumerate(order.counts) for _ in range(count)]
    placed = guillotine_filler(order, stages)(kinds, 0, Work(10**6)).placed
    kept = tuple(box for box in placed if data.draw(st.booleans()))
    found = tidied(Pattern(0, kept), order, None if forget else stages)
    assert found is not None
    assert wrong_on_sheet(order, found) == []
    assert wrong_when_cut(order, found, None if forget else stages) == []
    assert Counter(b.kind for b in found.placed) == Counter(b.kind for b in kept)


def test_a_pinwheel_is_not_cut_from_edge_to_edge():
    order = Order((Box(6, 4, True),), (4,), (Bed(10, 10),))
    assert tidied(Pattern(0, PINWHEEL), order, None) is None
    assert tidied(Pattern(0, PINWHEEL[:3]), order, None) is not None


def test_a_pinwheel_beside_a_box_is_not_left_out():
    order = Order((Box(6, 4, True),), (5,), (Bed(16, 10),))
    assert tidied(Pattern(0, (*PINWHEEL, Placed(0, 10, 0))), order, None) is None


def test_too_many_stages_are_told():
    order = Order((Box(17, 6), Box(5, 30), Box(4, 17), Box(4, 13)), (1, 1, 2, 2), (Bed(17, 36),))
    kinds = [0, 1, 2, 2, 3, 3]
    found = guillotine_filler(order, 3)(kinds, 0, Work(10**6))
    pattern = Pattern(0, found.placed, found.cuts)
    assert tidied(pattern, order, 3) == pattern
    assert tidied(pattern, order, 2) is None
    assert tidied(replace(pattern, cuts=None), order, 2) is None


def test_an_empty_sheet_stays_whole():
    order = Order((Box(17, 6),), (1,), (Bed(17, 36),))
    assert tidied(Pattern(0, ()), order, 3).placed == ()


def test_of_two_first_cuts_the_one_with_fewer_stages_is_found_again():
    """A column beside four boxes can be cut off first, or a strip above: one takes two stages."""
    order = Order((Box(1, 1), Box(1, 2), Box(47, 1)), (1, 2, 1), (Bed(48, 3),))
    found = guillotine_filler(order, 2)([0, 1, 1, 2], 0, Work(10**6))
    assert found.left == ()
    assert tidied(Pattern(0, found.placed), order, 2) is not None
