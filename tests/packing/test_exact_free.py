"""Exact pricing, against all sets that fit tiny sheets."""

import random

from kit_albums import album
from layout_judge import wrong_on_sheet
from tiny_layouts import fitting_sets

from dielines.packing.exact_free import exact_pricer
from dielines.packing.free import free_method as free
from dielines.packing.order import Bed, Box, Order, Work

ENOUGH = 10**8


def worth(prices, counts):
    return sum(price * count for price, count in zip(prices, counts, strict=True))


def tiny_orders(number):
    draw = random.Random(1961)
    for _ in range(number):
        bed = Bed(draw.randint(4, 7), draw.randint(4, 7), turns_all=draw.random() < 0.2)
        boxes = tuple(
            Box(draw.randint(1, 5), draw.randint(1, 5), draw.random() < 0.5) for _ in range(3)
        )
        order = Order(boxes, tuple(draw.randint(0, 3) for _ in boxes), (bed,))
        yield order, [draw.randint(0, 720720) for _ in boxes]


def test_the_best_set_is_found_and_proved_to_be_the_best():
    closed = 0
    for order, prices in tiny_orders(60):
        best = max(worth(prices, counts) for counts in fitting_sets(order, 0))
        found = exact_pricer(order)(prices, order.counts, 0, Work(ENOUGH))
        assert found.value == best
        assert found.at_most >= best
        closed += found.at_most - best <= max(5, best // 10**6)
        if found.pattern:
            counts = found.pattern.counts(3)
            assert worth(prices, counts) == found.value
            assert all(a <= b for a, b in zip(counts, order.counts, strict=True))
            assert wrong_on_sheet(order, found.pattern) == []
    assert closed == 60


def test_what_none_exceeds_is_proved_however_little_work_there_is():
    tight = 0
    for order, prices in tiny_orders(40):
        best = max(worth(prices, counts) for counts in fitting_sets(order, 0))
        pricer = exact_pricer(order)
        for work in (0, 1, 7_000, 50_000):
            at_most = pricer(prices, order.counts, 0, Work(work)).at_most
            assert at_most >= best
            tight += at_most <= best * 1.5
    assert tight > 40


def test_what_was_learnt_at_other_prices_rules_out_no_set_that_fits():
    draw = random.Random(7)
    for order, _ in tiny_orders(12):
        sets = fitting_sets(order, 0)
        pricer = exact_pricer(order)
        for _ in range(6):
            prices = [draw.randint(0, 720720) for _ in order.boxes]
            found = pricer(prices, order.counts, 0, Work(ENOUGH))
            assert found.value == max(worth(prices, counts) for counts in sets)


def test_four_mats_are_the_best_of_a_sheet_of_mats():
    order = album(8, 24)
    prices = [0, 0, 0, 0, 0, 720720, 0, 0, 0]
    found = exact_pricer(order)(prices, order.counts, 0, Work(ENOUGH))
    assert found.value == 4 * 720720
    assert found.at_most < 4 * 720720 + 10
    assert wrong_on_sheet(order, found.pattern) == []
    assert len(found.pattern.placed) > 4, "small parts ride free"


def test_no_filler_alone_finds_the_four_mats():
    order = album(8, 24)
    mats = [5] * 8
    placed = [len(fill(mats, 0, Work(ENOUGH)).placed) for fill in free(order).fillers]
    assert max(placed) == 3


def test_prices_of_nothing_find_no_pattern_worth_anything():
    order = album(4)
    found = exact_pricer(order)([0] * 9, order.counts, 0, Work(ENOUGH))
    assert found.value == 0
    assert 0 <= found.at_most <= 5
