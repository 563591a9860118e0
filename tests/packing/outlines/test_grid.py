"""How fine a grid is."""

from dielines.packing.order import Bed, Box, Order
from dielines.packing.outlines.grid import MOST_CELLS, MOST_EXACT, units_a_cell


def order_with(bed_side, *sides):
    return Order(tuple(Box(side, side) for side in sides), (1,) * len(sides), (Bed(bed_side, 9),))


def test_units_that_share_a_divisor_make_cells_of_it():
    assert units_a_cell([105, 42, 63, 84.0000001], order_with(210, 105, 42)) == 21


def test_corners_that_are_no_whole_number_make_the_grid_fine_and_exact_for_the_others():
    cell = units_a_cell([100, 33.3333, 50, 14.2857], order_with(3000, 100, 50))
    assert 3000 / MOST_EXACT < cell < 3000 / 300 + 1
    assert 50 % cell == 0


def test_a_fine_grid_is_a_whole_part_of_what_is_exact():
    assert units_a_cell([77, 33.3333, 154], order_with(3000, 77)) == 7


def test_a_sheet_that_loses_less_decides_between_grids():
    # cells of 75 and of 90 divide both boxes; 75 divides the sheet as well
    assert units_a_cell([1, 9_900], order_with(29_625, 9_900, 4_950)) == 75


def test_one_whole_number_among_many_others_does_not_make_a_coarse_grid():
    assert units_a_cell([310, 33.25, 50.5, 1414.75], order_with(29486, 3000)) < 100


def test_an_exact_grid_of_many_cells_is_taken_and_one_of_too_many_is_not():
    assert units_a_cell([1, 7], order_with(MOST_EXACT, 7)) == 1
    assert units_a_cell([1, 7], order_with(MOST_EXACT + 1, 7)) > 1


def test_where_no_grid_is_exact_boxes_and_sheets_lose_little():
    # 29_700 units: cells of 75 to 99; 99 divides both boxes and the sheet
    order = order_with(29_700, 9_900, 4_950)
    assert units_a_cell([1, 9_900, 4_950], order) == 99


def test_an_order_without_sheets_or_corners_has_a_grid():
    assert units_a_cell([], Order((), (), ())) == 1
    assert units_a_cell([], order_with(100_000, 5)) >= 100_000 // MOST_CELLS
