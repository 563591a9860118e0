"""The programme: sums of sides, values against all cuts tried, patterns worth their value."""

from functools import cache

from hypothesis import given, settings
from hypothesis import strategies as st
from trimmer import wrong_when_cut

from dielines.packing.guillotine.blocks import box_block, pattern_of
from dielines.packing.guillotine.programme import Wanted, programme, relaxed_best
from dielines.packing.order import Bed, Box, Order, Work

ITEMS = st.lists(
    st.tuples(st.integers(1, 9), st.integers(1, 9), st.integers(0, 50)), min_size=1, max_size=5
)
SIDES = st.integers(1, 17)


def tables(items, width, height, stages=None):
    wanted = [
        Wanted(box_block(i, Box(w, h), 0), value, 99) for i, (w, h, value) in enumerate(items)
    ]
    return programme(wanted, width, height, stages, Work(10**9))


def by_trying_all_cuts(items, width, height, stages):
    """Return the best value by cutting at every unit, with stages counted and trims free."""

    @cache
    def best(wide, high, way, left):
        found = max((v for w, h, v in items if w <= wide and h <= high), default=0)
        for cut, length in (("upright", wide), ("level", high)):
            rest = left - (cut != way)
            if rest < 0:
                continue
            for at in range(1, length):
                one = (at, high) if cut == "upright" else (wide, at)
                two = (wide - at, high) if cut == "upright" else (wide, high - at)
                found = max(found, best(*one, cut, rest) + best(*two, cut, rest))
        return found

    return best(width, height, None, stages)


@settings(max_examples=120, deadline=None)
@given(ITEMS, SIDES, SIDES, st.sampled_from([1, 2, 3, 9]))
def test_no_cut_at_any_unit_gives_more(items, width, height, stages):
    found = tables(items, width, height, None if stages == 9 else stages)
    assert found.best == by_trying_all_cuts(items, width, height, stages)


@settings(max_examples=100, deadline=None)
@given(ITEMS, st.integers(1, 80), st.integers(1, 80), st.sampled_from([1, 2, 3, None]))
def test_the_pattern_is_worth_what_the_table_says_and_can_be_cut(items, width, height, stages):
    found = tables(items, width, height, stages)
    boxes = tuple(Box(w, h) for w, h, _ in items)
    order = Order(boxes, (99,) * len(items), (Bed(width, height),))
    pattern = pattern_of(found.block(), order, 0, stages)
    assert sum(items[box.kind][2] for box in pattern.placed) == found.best
    assert wrong_when_cut(order, pattern, stages) == []


@settings(max_examples=100, deadline=None)
@given(ITEMS, st.integers(1, 80), st.integers(1, 80), st.integers(1, 4))
def test_a_coarse_unit_never_makes_a_sheet_worth_less(items, width, height, unit):
    wanted = [Wanted(box_block(i, Box(w, h), 0), v, 6400) for i, (w, h, v) in enumerate(items)]
    bound = relaxed_best(wanted, width, height, unit, 3, Work(10**9))
    assert bound >= tables(items, width, height, 3).best


def test_a_coarse_unit_that_all_sides_share_costs_nothing():
    """Sides in thirds of nothing but 7; the sheet is a little larger, which is rounded away."""
    items = [(21, 35, 20), (14, 14, 5), (28, 49, 37)]
    wanted = [Wanted(box_block(i, Box(w, h), 0), v, 99) for i, (w, h, v) in enumerate(items)]
    bound = relaxed_best(wanted, 97, 101, 7, 3, Work(10**9))
    assert bound == tables(items, 97, 101, 3).best
