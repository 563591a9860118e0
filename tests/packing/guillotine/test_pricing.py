"""Pricers for the trimmer: limits kept, bounds never below the best, exact where they say so."""

from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from layout_judge import wrong_on_sheet
from trimmer import wrong_when_cut

from dielines.packing.guillotine.blocks import box_block
from dielines.packing.guillotine.method import guillotine_method
from dielines.packing.guillotine.pricing import guillotine_pricer
from dielines.packing.guillotine.programme import Wanted, programme
from dielines.packing.order import Bed, Box, Order, Work


@st.composite
def priced_orders(draw, largest=60, most=6, limit=5):
    box = st.builds(Box, st.integers(1, largest), st.integers(1, largest), st.booleans())
    boxes = tuple(draw(st.lists(box, min_size=1, max_size=most)))
    row = {"min_size": len(boxes), "max_size": len(boxes)}
    counts = tuple(draw(st.lists(st.integers(0, limit), **row)))
    prices = draw(st.lists(st.integers(0, 10**6), **row))
    bed = Bed(draw(st.integers(1, 2 * largest)), draw(st.integers(1, 2 * largest)))
    return Order(boxes, counts, (bed,)), prices


@settings(max_examples=100, deadline=None)
@given(priced_orders(), st.sampled_from([2, 3, None]))
def test_every_pricer_keeps_the_limits_and_no_bound_is_below_a_value(order_and_prices, stages):
    order, prices = order_and_prices
    found = [
        pricer(prices, order.counts, 0, Work(10**6))
        for pricer in guillotine_method(order, stages).pricers
    ]
    for one in found:
        if one.pattern is None:
            assert one.value == 0
            continue
        counts = one.pattern.counts(len(order.boxes))
        assert all(n <= limit for n, limit in zip(counts, order.counts, strict=True))
        assert sum(n * price for n, price in zip(counts, prices, strict=True)) == one.value
        assert wrong_on_sheet(order, one.pattern) == []
        assert wrong_when_cut(order, one.pattern, stages) == []
    bounds = [one.at_most for one in found if one.at_most is not None]
    assert bounds
    assert min(bounds) >= max(one.value for one in found)


def fits(order, counts, stages):
    """Return whether so many of each kind can be cut, by trying all cuts."""

    def place(wide, high, counts, way, left):
        total = sum(counts)
        if total == 0:
            return True
        if total == 1:
            box = order.boxes[counts.index(1)]
            turned = box.may_turn and box.height <= wide and box.width <= high
            if (box.width <= wide and box.height <= high) or turned:
                return True
        for cut, length in (("upright", wide), ("level", high)):
            rest = left - (cut != way)
            for at in range(1, length if rest >= 0 else 0):
                one = (at, high) if cut == "upright" else (wide, at)
                two = (wide - at, high) if cut == "upright" else (wide, high - at)
                for near in product(*(range(n + 1) for n in counts)):
                    far = tuple(n - m for n, m in zip(counts, near, strict=True))
                    if not (any(near) and any(far)):
                        continue
                    if place(*one, near, cut, rest) and place(*two, far, cut, rest):
                        return True
        return False

    bed = order.beds[0]
    return place(bed.width, bed.height, tuple(counts), None, stages)


@settings(max_examples=60, deadline=None)
@given(priced_orders(largest=4, most=3, limit=1), st.sampled_from([2, 3]))
def test_the_bound_holds_for_all_patterns_within_the_limits(order_and_prices, stages):
    order, prices = order_and_prices
    found = guillotine_pricer(order, stages)(prices, order.counts, 0, Work(10**6))
    best = max(
        sum(n * price for n, price in zip(counts, prices, strict=True))
        for counts in product(*(range(n + 1) for n in order.counts))
        if fits(order, counts, stages)
    )
    assert found.value <= best <= found.at_most


def test_one_costly_box_is_not_taken_twice_and_the_bound_knows():
    order = Order((Box(30, 30), Box(20, 13)), (1, 9), (Bed(61, 31),))
    found = guillotine_pricer(order, 3)([1000, 10], order.counts, 0, Work(10**6))
    assert found.pattern.counts(2) == (1, 2)
    assert found.value == 1020
    # lowered by 970: two of the first, one with two others, or six others: 970 + max(60, 50, 60)
    assert found.at_most == 1030


@pytest.mark.parametrize("quarter", [8, 9])
def test_four_mats_fit_only_as_a_pinwheel_so_a_trimmer_gets_three(quarter):
    """4 1/8 x 6 1/8 on 12 x 12, margin 1/4, gap 1/8, in sixteenths: as found in trials beforehand."""
    mat = Box(4 * 16 + 4, 6 * 16 + 4, True)
    order = Order((mat,), (quarter,), (Bed(186, 186),))
    found = guillotine_pricer(order, None)([1], order.counts, 0, Work(10**6))
    assert (found.value, found.at_most) == (3, 3)


@settings(max_examples=25, deadline=None)
@given(priced_orders(largest=40, most=4, limit=3), st.sampled_from([2, 3, None]), st.data())
def test_fine_lengths_give_a_pattern_within_the_bound_and_in_bounded_work(
    order_and_prices, stages, data
):
    """The same boxes in a unit ten thousand times finer, each a little less: the bound still holds."""
    order, prices = order_and_prices
    less = [data.draw(st.integers(0, 999)) for _ in range(2 * len(order.boxes))]
    boxes = tuple(
        Box(box.width * 10_007 - less[2 * i], box.height * 10_007 - less[2 * i + 1], box.may_turn)
        for i, box in enumerate(order.boxes)
    )
    bed = Bed(order.beds[0].width * 10_007, order.beds[0].height * 10_007)
    fine, work = Order(boxes, order.counts, (bed,)), Work(10**9)
    found = guillotine_pricer(fine, stages)(prices, order.counts, 0, work)
    rough = guillotine_pricer(order, stages)(prices, order.counts, 0, Work(10**9))
    assert found.at_most >= max(found.value, rough.value)
    assert work.spent < 10**7
    if found.pattern:
        assert wrong_on_sheet(fine, found.pattern) == []
        assert wrong_when_cut(fine, found.pattern, stages) == []


def test_a_dense_sheet_in_fine_lengths_is_still_filled():
    """Six widths that share nothing, in micrometres; together just the width of the sheet."""
    widths = [41_237, 17_389, 53_101, 29_443, 11_827, 97_003]
    boxes = tuple(Box(width, 99_991) for width in widths)
    order = Order(boxes, (2,) * 6, (Bed(sum(widths), 2 * 99_991),))
    found = guillotine_pricer(order, 2)(widths, order.counts, 0, Work(10**9))
    assert found.value == 2 * sum(widths)


def test_prices_that_a_table_cannot_hold_are_refused():
    order = Order((Box(1, 1),), (10**9,), (Bed(1000, 1000),))
    with pytest.raises(ValueError, match="too large"):
        guillotine_pricer(order, 2)([1 << 50], order.counts, 0, Work(10**6))


def test_where_places_for_cuts_were_left_out_the_bound_is_that_of_a_coarser_unit():
    """Twelve widths in micrometres fill the sheet just so; rows of so many boxes are not all tried."""
    widths = [23_011 + 347 * n * n + 7 * n for n in range(12)]
    sheet = Bed(sum(widths), 99_991)
    order = Order(tuple(Box(width, 99_991) for width in widths), (1,) * 12, (sheet,))
    wanted = [Wanted(box_block(n, box, 0), box.width, 1) for n, box in enumerate(order.boxes)]
    tables = programme(wanted, sheet.width, sheet.height, 2, Work(10**9))
    assert not tables.is_exact
    assert tables.best < sheet.width
    found = guillotine_pricer(order, 2)(widths, order.counts, 0, Work(10**9))
    assert found.value <= sheet.width <= found.at_most
