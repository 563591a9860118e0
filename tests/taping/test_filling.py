"""Widths of tape side by side: the best row, against all rows that there are."""

from fractions import Fraction
from itertools import combinations_with_replacement

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from dielines.taping.filling import SUMS, fewest_possible, filling, widest_first

F = Fraction
WIDTHS = st.lists(
    st.fractions(min_value=F(3, 2), max_value=12, max_denominator=7), min_size=1, max_size=4
)
ROOM = st.fractions(min_value=F(1, 3), max_value=20, max_denominator=7)


def all_full_rows(room, widths):
    """Every row, wide to narrow, beside which not even the narrowest width fits."""
    owned = sorted({width for width in widths if width <= room}, reverse=True)
    for count in range(1, int(room // min(owned)) + 1 if owned else 0):
        for row in combinations_with_replacement(owned, count):
            if 0 <= room - sum(row) < owned[-1]:
                yield row


@given(ROOM, WIDTHS)
@settings(max_examples=150, deadline=None)
def test_no_other_full_row_has_fewer_strips_or_a_smaller_gap_or_begins_wider(room, widths):
    rows = list(all_full_rows(room, widths))
    best = min(rows, key=lambda row: (len(row), room - sum(row), [-w for w in row]), default=())
    assert filling(room, widths) == best


@given(ROOM, WIDTHS)
@settings(max_examples=150, deadline=None)
def test_a_row_is_never_wider_than_its_zone_and_takes_at_least_what_was_foretold(room, widths):
    row = filling(room, widths)
    assert sum(row) <= room
    assert set(row) <= set(widths)
    assert fewest_possible(room, widths) <= len(row)
    assert bool(row) == (min(widths) <= room) == bool(fewest_possible(room, widths))


@given(ROOM, WIDTHS)
@settings(max_examples=60, deadline=None)
def test_beside_a_full_row_not_even_the_narrowest_width_fits(room, widths):
    row = filling(room, widths)
    if row:
        assert room - sum(row) < min(widths)


@pytest.mark.parametrize(
    ("room", "widths", "row"),
    [
        # the spine of a book of five pages, 1 3/4 in: three strips fill it, the widest first
        (F("44.45"), ("25.4", "12.7", "9.525", "6.35", "3.175"), ("25.4", "12.7", "6.35")),
        # 70 mm: three strips with a gap of 1 mm go before four without one
        (F(70), ("3", "6", "9", "12", "19", "25"), ("25", "25", "19")),
        # a gap that the narrowest tape fills is filled, a hair less is not
        (F(11), ("4", "3"), ("4", "4", "3")),
        (F(11) - F(1, 7**9), ("4", "3"), ("4", "4")),
        (F(9), ("4", "3"), ("4", "4")),
        # thirds and sevenths add up exactly
        (F(10, 3) + F(22, 7), ("10/3", "22/7"), ("10/3", "22/7")),
        (F(6), ("6",), ("6",)),
        (F(6) - F(1, 10**9), ("6",), ()),
    ],
)
def test_rows_worked_out_by_hand(room, widths, row):
    assert filling(room, map(F, widths)) == tuple(map(F, row))


def test_the_widest_first_is_not_always_best():
    assert widest_first(12, (7, 6, 1)) == (7, 1, 1, 1, 1, 1)
    assert filling(F(12), (F(7), F(6), F(1))) == (6, 6)


def test_a_room_of_very_many_narrow_widths_is_filled_all_the_same():
    odd = [F(101, 100) + F(1, prime) for prime in (997, 991, 983, 977, 971, 967, 953, 947)]
    row = filling(F(300), odd)
    assert sum(row) <= 300
    assert 300 - sum(row) < min(odd)
    assert row[0] == max(odd)
    assert SUMS >= 1000
