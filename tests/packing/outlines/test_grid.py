"""How fine a grid is."""

from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from dielines.packing.outlines.grid import MOST_CELLS, cell_for

SIXTEENTH = Fraction(254, 160)


def test_sizes_in_sixteenths_make_a_grid_of_sixteenths():
    lengths = [n * SIXTEENTH for n in (134, 148, 2, 35)]
    assert cell_for(lengths, 186 * SIXTEENTH) == SIXTEENTH


def test_coarser_sizes_make_a_coarser_grid():
    assert cell_for(
        [Fraction(105, 2), Fraction(45, 2), Fraction(15, 2)], Fraction(297)
    ) == Fraction(15, 2)


def test_thirds_and_sevenths_together_are_exact_where_the_sheet_is_small():
    assert cell_for([Fraction(10, 3), Fraction(10, 7)], Fraction(12)) == Fraction(10, 21)


def test_no_length_at_all_still_gives_a_grid():
    assert cell_for([], Fraction(300)) == Fraction(300, MOST_CELLS)


def test_a_grid_that_cannot_be_exact_loses_less_than_the_finest_one():
    lengths = [Fraction(2127, 10), Fraction(1054, 10) + Fraction(1, 7), Fraction(3)]
    cell = cell_for(lengths, Fraction(297))
    finest = Fraction(297, MOST_CELLS)
    assert cell * MOST_CELLS >= 297
    assert sum(-length % cell for length in lengths) < sum(-length % finest for length in lengths)


@given(
    st.lists(st.fractions(Fraction(1, 10), 300, max_denominator=50), min_size=1, max_size=8),
    st.integers(100, 900),
)
def test_a_sheet_never_has_more_cells_than_are_allowed(lengths, longest):
    cell = cell_for(lengths, Fraction(longest))
    assert longest <= cell * MOST_CELLS


@given(
    st.lists(st.integers(1, 400), min_size=1, max_size=8),
    st.fractions(Fraction(1, 3), 2, max_denominator=20),
)
def test_an_exact_grid_divides_every_length(counts, unit):
    lengths = [count * unit for count in counts]
    cell = cell_for(lengths, 400 * unit)
    assert [length % cell for length in lengths] == [0] * len(lengths)
