"""Places for cuts: all sums, and where they are too many, the sums of few boxes."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dielines.packing.guillotine.sums import LEAST, MOST, coarse_unit, cut_places, sums


@given(st.lists(st.tuples(st.integers(1, 30), st.integers(1, 4)), max_size=4), st.integers(0, 90))
def test_sums_are_all_sums(lengths, largest):
    reached = {0}
    for length, limit in lengths:
        reached = {at + length * n for at in reached for n in range(limit + 1)}
    assert list(sums(lengths, largest)) == sorted(at for at in reached if at <= largest)


#: sides in micrometres that have nothing to do with one another
FINE = [(41_237, 24), (17_389, 24), (53_101, 24), (29_443, 24), (11_827, 24)]


def test_of_too_many_places_those_of_few_boxes_are_kept_with_what_they_leave():
    found = cut_places(FINE, 297_013)
    assert not found.are_all
    assert len(found.row) <= MOST + 1
    assert list(found.row) == sorted(set(found.row))
    few = {one + other for one, _ in FINE for other, _ in [*FINE, (0, 1)]}
    assert few <= set(found.row)
    assert {297_013 - at for at in few} <= set(found.row)


def test_few_places_are_all_kept():
    found = cut_places([(134, 24), (148, 24), (20, 25)], 186)
    assert found.are_all
    assert found.row == sums([(134, 24), (148, 24), (20, 25)], 186)


@pytest.mark.parametrize(("sides", "longest", "unit"), [
    ([25_000, 140_000], 297_000, 1000),
    ([3 * 1234, 7 * 1234, 11 * 1234], 400 * 1234, 1234),
    ([2, 3], 11, 1),
])  # fmt: skip
def test_the_coarse_unit_is_the_one_of_the_sides_where_there_is_one(sides, longest, unit):
    assert coarse_unit(sides, longest) == unit


@given(st.lists(st.integers(1, 10**6), min_size=1, max_size=9), st.integers(1, 10**7))
def test_a_sheet_is_never_more_coarse_units_than_a_table_holds(sides, longest):
    assert -(-longest // coarse_unit(sides, longest)) <= MOST
    assert coarse_unit(sides, longest) <= max(1, longest // LEAST, -(-longest // MOST))
