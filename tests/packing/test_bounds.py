"""The bound, against orders whose least price is known otherwise."""

import pytest

from dielines.packing.bounds import dff_bound
from dielines.packing.dual_feasible import dual_feasible
from dielines.packing.lots import Lots
from dielines.packing.lying import NoRoom
from dielines.packing.order import Bed, Box, Order


def test_no_function_gives_lengths_that_fit_together_more_than_the_whole():
    """Every choice of lengths up to 17, with repeats, for every function (all sums: exhaustive)."""
    for size in (1, 2, 5, 12, 17):
        lengths = list(range(1, size + 1))
        for dual in dual_feasible(size, lengths):
            most = [0] * (size + 1)  # the largest value of lengths that are together so long
            for total in range(1, size + 1):
                most[total] = max(most[total - n] + dual.values[n - 1] for n in range(1, total + 1))
            assert max(most) <= dual.scale, (size, dual)


def test_boxes_over_half_of_both_sides_need_a_sheet_each():
    assert dff_bound(Order((Box(8, 7), Box(7, 8, True)), (5, 6), (Bed(13, 13),))) == 11


def test_two_boxes_of_which_three_would_go_by_area_go_on_a_sheet():
    """7 x 11 on 20 x 12: by area 3, side by side 2."""
    assert dff_bound(Order((Box(7, 11),), (9,), (Bed(20, 12),))) == 5


def test_a_box_that_may_turn_counts_its_smaller_weight():
    order = Order((Box(9, 4),), (4,), (Bed(12, 9),))
    free = Order((Box(9, 4, True),), (4,), (Bed(12, 9),))
    assert (dff_bound(order), dff_bound(free)) == (2, 2)
    tall = Order((Box(4, 9),), (4,), (Bed(9, 12),))
    assert dff_bound(tall) == 2
    assert dff_bound(Order((Box(7, 3),), (6,), (Bed(9, 7),))) == 3
    assert dff_bound(Order((Box(7, 3, True),), (6,), (Bed(9, 7),))) == 2
    assert dff_bound(Order((Box(7, 3),), (6,), (Bed(9, 7, turns_all=True),))) == 2


def test_nothing_to_place_costs_nothing():
    assert dff_bound(Order((Box(7, 3),), (0,), (Bed(9, 7, 350),))) == 0


def test_a_box_that_fits_no_sheet_is_refused():
    with pytest.raises(NoRoom) as caught:
        dff_bound(Order((Box(7, 3), Box(10, 7)), (1, 1), (Bed(9, 7),)))
    assert caught.value.kinds == (1,)


def test_the_price_counts():
    assert dff_bound(Order((Box(8, 7),), (5,), (Bed(13, 13, 85),))) == 425


def test_with_two_sizes_each_box_is_taken_where_it_is_cheapest():
    """Boxes of 7 x 11: two on 20 x 12 for 50, or one on 12 x 12 for 30: 25 each."""
    order = Order((Box(7, 11),), (9,), (Bed(20, 12, 50), Bed(12, 12, 30)))
    assert dff_bound(order) == 230
    dear = Order((Box(7, 11),), (9,), (Bed(20, 12, 70), Bed(12, 12, 30)))
    assert dff_bound(dear) == 270


def test_a_box_that_fits_the_dear_sheet_only_is_weighed_there():
    order = Order((Box(15, 11), Box(7, 11)), (3, 3), (Bed(20, 12, 90), Bed(12, 12, 30)))
    assert dff_bound(order) == 360


def test_a_sheet_too_small_for_any_box_changes_nothing():
    order = Order((Box(7, 11),), (9,), (Bed(5, 5, 1), Bed(20, 12, 50), Bed(12, 12, 30)))
    assert dff_bound(order) == 230


def test_free_offcuts_lower_the_bound_by_no_more_than_they_can_hold():
    boxes, counts = (Box(7, 11),), (9,)
    offcuts = Bed(12, 12, 0, at_most=2)
    assert dff_bound(Order(boxes, counts, (Bed(20, 12, 50), offcuts))) >= 3 * 50
    assert dff_bound(Order(boxes, counts, (Bed(20, 12, 50), offcuts))) <= 4 * 50


def test_a_bound_is_the_same_in_units_so_fine_that_sixty_four_bits_overflow():
    plain = [dff_bound(in_units(1, seed)) for seed in range(12)]
    assert [dff_bound(in_units(10**9, seed)) for seed in range(12)] == plain


def in_units(unit, seed):
    lots = Lots(seed)
    boxes = tuple(
        Box((3 + lots.below(25)) * unit, (3 + lots.below(25)) * unit, lots.below(2) == 0)
        for _ in range(6)
    )
    return Order(boxes, (3,) * 6, (Bed(37 * unit, 29 * unit),))


def test_the_bound_is_never_above_what_a_layout_needs():
    """Sheets are cut up by lot, so that it is known what they cost."""
    for seed in range(300):
        lots = Lots(seed)
        beds = (Bed(60, 40, 100), Bed(30 + lots.below(60), 40, 40 + lots.below(80)))
        used = [lots.below(2) for _ in range(1 + lots.below(4))]
        boxes = [box for bed in used for box in cut_up(beds[bed], lots)]
        order = Order(tuple(boxes), (1,) * len(boxes), beds)
        assert dff_bound(order) <= sum(beds[bed].price for bed in used), seed


def cut_up(bed, lots):
    """Return boxes that fill a bed, which may turn or not."""
    x = 1 + lots.below(bed.width - 1)
    y = 1 + lots.below(bed.height - 1)
    pieces = [(x, bed.height), (bed.width - x, y), (bed.width - x, bed.height - y)]
    return [Box(wide, high, lots.below(2) == 0) for wide, high in pieces]
