"""The search that tries every layout, against one that tries every place on a grid."""

import random

import pytest
from layout_judge import wrong_on_sheet
from tiny_layouts import fits

from dielines.packing.exact_search import Verdict, searched
from dielines.packing.lying import Lying, ways_to_lie
from dielines.packing.order import Bed, Box, Order, Pattern, Work

MANY = 100_000


def test_four_mats_lie_as_a_pinwheel():
    order = Order((Box(68, 100, True),), (4,), (Bed(186, 186),))
    found = searched((186, 186), ways_to_lie(order)[0], (4,), MANY, Work(10**9))
    assert found.verdict is Verdict.FITS
    assert wrong_on_sheet(order, Pattern(0, found.placed)) == []
    assert len(found.placed) == 4
    assert sorted(box.quarters for box in found.placed) == [0, 0, 1, 1]


@pytest.mark.parametrize("counts", [(5,), (4, 1)])
def test_more_than_a_pinwheel_is_proved_not_to_fit(counts):
    order = Order((Box(68, 100, True), Box(20, 70))[: len(counts)], counts, (Bed(186, 186),))
    found = searched((186, 186), ways_to_lie(order)[0], counts, MANY, Work(10**9))
    assert found == (Verdict.CANNOT, ())


def test_a_search_that_is_ended_early_says_neither():
    order = Order((Box(68, 100, True),), (4,), (Bed(186, 186),))
    found = searched((186, 186), ways_to_lie(order)[0], (4,), 2, Work(10**9))
    assert found.verdict is Verdict.OPEN


def test_work_that_is_over_ends_a_search():
    order = Order((Box(68, 100, True),), (4,), (Bed(186, 186),))
    found = searched((186, 186), ways_to_lie(order)[0], (4,), MANY, Work(0))
    assert found.verdict is Verdict.OPEN


def test_small_sets_fit_exactly_when_trying_every_place_finds_a_layout():
    draw = random.Random(2026)
    verdicts = []
    for _ in range(400):
        size = draw.randint(5, 8), draw.randint(5, 8)
        boxes = [
            Box(draw.randint(2, 5), draw.randint(2, 5), draw.random() < 0.5)
            for _ in range(draw.randint(3, 5))
        ]
        order = Order(tuple(boxes), (1,) * len(boxes), (Bed(*size),))
        ways = ways_to_lie(order)[0]
        filling = sum(box.area for box in boxes) / (size[0] * size[1])
        if not 0.7 <= filling <= 1 or not all(ways):
            continue
        found = searched(size, ways, order.counts, MANY, Work(10**9))
        expected = fits(size, [[(way.width, way.height) for way in lying] for lying in ways])
        assert (found.verdict is Verdict.FITS) == expected
        assert wrong_on_sheet(order, Pattern(0, found.placed)) == []
        assert not expected or len(found.placed) == len(boxes)
        verdicts.append(expected)
    assert verdicts.count(True) > 25
    assert verdicts.count(False) > 25


def test_boxes_that_fit_in_no_way_are_proved_not_to_fit():
    assert searched((7, 9), ((Lying(8, 3, 0),),), (1,), MANY, Work(10**9)).verdict is Verdict.CANNOT
