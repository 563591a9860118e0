"""Sheets of outlines by what they are worth."""

import pytest
from notched_album import GAP, notched_album, parts
from outline_judge import wrong_on_outline_sheet, wrong_turns

from dielines.packing.cells import Shape
from dielines.packing.order import Bed, Box, Order, Work
from dielines.packing.outlines.pricer import outline_pricers
from dielines.packing.outlines.raster import rasters_of
from dielines.packing.outlines.rings import shape_of_rings

PAGE, LEAF, HINGE, EDGE, GUARD, MAT = range(6)
RINGS = [[[(x * 16, y * 16) for x, y in ring]] for ring, _, _ in parts(8)]
BY_FORESIGHT, BY_LOT, BY_EXCHANGE = range(3)
EACH = pytest.mark.parametrize("number", [BY_FORESIGHT, BY_LOT, BY_EXCHANGE])


def priced(number, prices, limits=None, long=12, work=10**9):
    """Return order, shapes, answer and work of one of the pricers on the album of 24 books."""
    order, shapes = notched_album(8, 24, long)
    spent = Work(work)
    pricer = outline_pricers(rasters_of(order, shapes))[number]
    return order, shapes, pricer(prices, limits or order.counts, 0, spent), spent


@pytest.mark.parametrize("number", [BY_FORESIGHT, BY_EXCHANGE])
def test_a_page_shares_its_sheet_with_a_mat_and_two_hinges(number):
    # boxes allow a page and 4 hinges, or 2 guards and 3 edges; the mat goes through the notch
    order, shapes, found, _ = priced(number, [6, 0, 1, 0, 0, 3], [1, 0, 2, 0, 0, 1])
    counts = found.pattern.counts(6)
    assert found.value == 11
    assert (counts[PAGE], counts[HINGE], counts[MAT]) == (1, 2, 1)
    assert wrong_on_outline_sheet(RINGS, order, found.pattern, 1, GAP) == []
    assert wrong_turns(shapes, order, found.pattern) == []


def mats_alone():
    """Return the order of mats that lie in any turn, 4 1/8 x 6 1/8 in and a gap of 1/8 in."""
    ring = [[(0.0, 0.0), (66.0, 0.0), (66.0, 98.0), (0.0, 98.0)]]
    shape = shape_of_rings(ring, 1.0, GAP, (0, 1))
    return Order((Box(68, 100, True),), (24,), (Bed(186, 186),)), (shape,)


@pytest.mark.parametrize("number", [BY_LOT, BY_EXCHANGE])
def test_four_mats_lie_around_a_middle_left_empty(number):
    order, shapes = mats_alone()
    pricer = outline_pricers(rasters_of(order, shapes))[number]
    assert pricer([1], [24], 0, Work(10**9)).value == 4


@EACH
def test_no_more_of_a_kind_is_used_than_allowed(number):
    limits = [1, 0, 3, 1, 0, 2]
    counts = priced(number, [1, 1, 5, 1, 1, 1], limits, 24)[2].pattern.counts(6)
    assert all(count <= most for count, most in zip(counts, limits, strict=True))
    assert counts[HINGE] == 3


@EACH
def test_nothing_is_proved_about_outlines(number):
    assert priced(number, [1] * 6)[2].at_most is None


@EACH
def test_parts_that_are_worth_nothing_make_no_pattern(number):
    found = priced(number, [0] * 6, work=1000)[2]
    assert (found.pattern, found.value) == (None, 0)


@EACH
def test_parts_that_fit_no_sheet_make_no_pattern(number):
    shape = Shape(((0, shape_of_rings(RINGS[PAGE], 1.0, GAP, (0,)).cells(0)),))
    order = Order((Box(136, 150),), (3,), (Bed(100, 100),))
    pricer = outline_pricers(rasters_of(order, (shape,)))[number]
    assert pricer([5], [3], 0, Work(1000)).pattern is None


@EACH
def test_the_value_is_that_of_the_pattern(number):
    prices = [7, 5, 2, 1, 3, 4]
    found = priced(number, prices, long=24)[2]
    assert found.value == sum(prices[p.kind] for p in found.pattern.placed)


@EACH
def test_patterns_are_right_by_their_polygons(number):
    order, shapes, found, _ = priced(number, [70, 33, 7, 11, 9, 29], long=24)
    assert wrong_on_outline_sheet(RINGS, order, found.pattern, 1, GAP) == []
    assert wrong_turns(shapes, order, found.pattern) == []


@EACH
def test_work_that_is_over_still_gives_one_pattern_and_little_work(number):
    _, _, found, work = priced(number, [3, 2, 1, 1, 1, 1], work=0)
    assert found.pattern is not None
    _, _, _, more = priced(number, [3, 2, 1, 1, 1, 1])
    assert work.spent < more.spent


@EACH
def test_the_same_question_has_the_same_answer(number):
    assert priced(number, [9, 4, 2, 1, 2, 3])[2] == priced(number, [9, 4, 2, 1, 2, 3])[2]


def test_exchange_finds_more_than_lots_and_foresight():
    prices = [100, 76, 16, 22, 23, 68]
    values = [priced(number, prices, long=24)[2].value for number in range(3)]
    assert values[BY_EXCHANGE] > max(values[BY_FORESIGHT], values[BY_LOT])


def test_exchange_leaves_most_of_the_work_to_others():
    _, _, _, work = priced(BY_EXCHANGE, [100, 76, 16, 22, 23, 68], long=24, work=160_000)
    assert 15_000 < work.spent < 45_000
