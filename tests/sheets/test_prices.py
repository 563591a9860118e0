"""Bounds in money are sums that sheets can cost: compared with sums found one by one."""

from itertools import product

import pytest

from dielines.packing.order import Bed
from dielines.sheets.prices import MOST_SUMS, next_cost


def one_by_one(beds, least):
    most = [9 if bed.at_most is None else bed.at_most for bed in beds]
    counts = product(*(range(number + 1) for number in most))
    sums = [sum(n * bed.price for n, bed in zip(some, beds, strict=True)) for some in counts]
    return min((one for one in sums if one >= least), default=least)


@pytest.mark.parametrize("least", range(0, 300, 7))
@pytest.mark.parametrize(
    "told",
    [[(129, None), (1, 2)], [(60, 3), (100, None)], [(35, 1), (49, 2), (77, 3)], [(91, None)]],
)
def test_the_next_cost_is_the_least_sum_of_sheets_that_there_are(told, least):
    beds = [Bed(9, 9, price, at_most) for price, at_most in told]
    assert next_cost(beds, least) == one_by_one(beds, least)


def test_a_bound_beyond_all_sums_stays():
    assert next_cost([Bed(9, 9, 35, 2)], 71) == 71
    assert next_cost([Bed(9, 9, 2, None), Bed(9, 9, 3, None)], MOST_SUMS * 5) == MOST_SUMS * 5
