"""Rectangles that share, and the thickest of what lies on a panel."""

from __future__ import annotations

import random

import pytest

from dielines.folding.levels import Box, thickest


def test_boxes_that_only_touch_share_nothing():
    box = Box(0, 0, 1 / 3, 2)
    assert box.shared(Box(1 / 3, 0, 1, 2)) is None
    assert box.shared(Box(1 / 3 - 5e-4, 0, 1, 2)) is None
    assert box.shared(Box(0.3, 1, 1, 3)) == Box(0.3, 1, 1 / 3, 2)


def test_what_is_left_of_a_box_and_what_was_taken_make_the_whole():
    dice = random.Random("boxes")
    for _ in range(50):
        a, b = (_random_box(dice) for _ in range(2))
        shared = a.shared(b)
        left = list(a.without(b))
        taken = area(shared) if shared else 0.0
        assert sum(map(area, left)) + taken == pytest.approx(area(a), abs=0.05)
        assert all(piece.shared(b) is None for piece in left)


def area(box: Box) -> float:
    return (box.right - box.left) * (box.top - box.bottom)


def _random_box(dice: random.Random) -> Box:
    x, y = dice.uniform(0, 9), dice.uniform(0, 9)
    return Box(x, y, x + dice.uniform(0.1, 5), y + dice.uniform(0.1, 5))


def test_the_thickest_of_two_sheets_is_their_sum_only_where_they_overlap():
    whole = Box(0, 0, 10, 10)
    a, b = (Box(1, 1, 4, 4), 1 / 3), (Box(3, 3, 6, 6), 2 / 7)
    assert thickest([a, b], whole) == pytest.approx(1 / 3 + 2 / 7)
    assert thickest([a, b], Box(0, 0, 3, 10)) == pytest.approx(1 / 3)
    assert thickest([a, (Box(4, 1, 6, 4), 2 / 7)], whole) == pytest.approx(1 / 3)
    assert thickest([], whole) == 0


@pytest.mark.parametrize("seed", range(5))
def test_the_thickest_is_that_of_the_best_of_many_points(seed):
    dice = random.Random(f"sheets {seed}")
    coats = [(_random_box(dice), dice.uniform(0.1, 1)) for _ in range(7)]
    within = Box(1, 1, 12, 12)
    points = [(dice.uniform(1, 12), dice.uniform(1, 12)) for _ in range(3000)]
    sums = [
        sum(t for box, t in coats if box.left < x < box.right and box.bottom < y < box.top)
        for x, y in points
    ]
    assert thickest(coats, within) >= max(sums)
    assert thickest(coats, within) <= sum(t for _, t in coats)
