"""Bounds from prices of boxes, against the least price of tiny orders."""

import random
from itertools import product

import pytest
from tiny_layouts import fitting_sets, least_price

from dielines.packing.order import Bed, Box, Order
from dielines.packing.proof import next_price, proved_price


def best_worth(order, prices):
    return [
        max(sum(p * n for p, n in zip(prices, counts, strict=True)) for counts in sets)
        for sets in (fitting_sets(order, bed) for bed in range(len(order.beds)))
    ]


def test_no_prices_prove_more_than_the_least_price():
    draw = random.Random(3)
    proved = least_of_all = 0
    for _ in range(25):
        beds = [Bed(draw.randint(4, 6), draw.randint(4, 6), draw.randint(1, 9))]
        beds += [
            Bed(draw.randint(3, 6), draw.randint(3, 6), draw.randint(0, 5), draw.randint(0, 2))
            for _ in range(draw.randint(0, 2))
        ]
        boxes = tuple(Box(draw.randint(1, 4), draw.randint(1, 4), True) for _ in range(3))
        order = Order(boxes, (draw.randint(1, 3), 2, 1), tuple(beds))
        least = least_price(order)
        tried = []
        for _ in range(30):
            prices = [draw.randint(0, 100) for _ in boxes]
            tried.append(proved_price(order, prices, best_worth(order, prices)))
        assert max(tried) <= least
        proved += max(tried)
        least_of_all += least
    assert proved >= 0.8 * least_of_all


def test_halves_of_sheets_are_proved_exactly():
    order = Order((Box(5, 9), Box(10, 9)), (7, 3), (Bed(10, 9, 3),))
    assert proved_price(order, (1, 2), (2,)) == 3 * 7


def test_a_bound_that_is_no_bound_of_the_best_pattern_would_show():
    """The price per box is lowered by what a pattern may be worth more than its sheet."""
    order = Order((Box(5, 9),), (9,), (Bed(10, 9, 4),))
    assert proved_price(order, (4,), (8,)) == 4 * 5
    assert proved_price(order, (4,), (12,)) == 4 * 3
    assert proved_price(order, (7,), (14,)) == proved_price(order, (4,), (8,))


def test_sheets_of_which_there_are_few_save_no_more_than_they_can():
    order = Order((Box(5, 9),), (9,), (Bed(10, 9, 4), Bed(10, 9, 1, at_most=2)))
    assert proved_price(order, (2,), (4, 4)) == 2 * 1 + 10  # two and a half of the others
    assert least_price(order) == 1 + 1 + 3 * 4


@pytest.mark.parametrize(
    "prices", [(3,), (6, 10), (6, 10, 15), (0, 7), (120, 349), (100_003, 99_991)]
)
def test_the_next_price_is_the_least_sum_of_prices(prices):
    order = Order((), (), tuple(Bed(9, 9, price) for price in prices))
    most = 40
    sums = sorted(
        {
            sum(n * p for n, p in zip(ns, prices, strict=True))
            for ns in product(range(most), repeat=len(prices))
        }
    )
    for price in range(
        0, 30 * min(p for p in prices if p), max(1, min(p for p in prices if p) // 7)
    ):
        expected = next(total for total in sums if total >= price)
        assert price <= next_price(order, price) <= expected
        if max(prices) < 1000:
            assert next_price(order, price) == expected


def test_a_fraction_of_a_sheet_takes_a_whole_one():
    order = Order((Box(3, 9),), (1,), (Bed(10, 9, 7),))
    assert proved_price(order, (1,), (3,)) == 7
