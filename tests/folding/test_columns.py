"""Exact columns against sums at single points, on whole books."""

from __future__ import annotations

import random

import pytest
from thick_books import PAPER, TAPE, composed, holding, mixed_book

from dielines.folding.levels import Box


@pytest.fixture(scope="module")
def thickness(tmp_path_factory):
    """Five pages, the second with a photo of 1 mm behind its flap."""
    text = mixed_book(5, holding(2, "4 1/3 x 2 2/7", "1 mm") + holding(3, "3 x 2", "1/7 mm", 7))
    return composed(tmp_path_factory.mktemp("columns"), text).thickness


def test_columns_are_the_sums_of_all_that_lies_over_a_point(thickness):
    dice = random.Random("points")
    stack, columns = thickness.stack, thickness.columns
    layers = [
        (level.box, level.caliper)
        for level in stack.levels.values()
        if not stack.is_board(level.key[0])
    ]
    for key, coats in stack.coats.items():
        if not stack.is_board(key[0]):
            layers += [(coat.box, coat.thickness) for coat in coats]
    whole = columns.whole
    for _ in range(400):
        x, y = dice.uniform(whole.left, whole.right), dice.uniform(whole.bottom, whole.top)
        told = sum(t for b, t in layers if b.left < x < b.right and b.bottom < y < b.top)
        assert columns.at(x, y).pressed == pytest.approx(told, abs=1e-9)


def test_upright_columns_reach_from_the_lowest_to_the_highest_panel(thickness):
    dice = random.Random("upright")
    stack, columns = thickness.stack, thickness.columns
    whole = columns.whole
    for _ in range(100):
        x, y = dice.uniform(whole.left, whole.right), dice.uniform(whole.bottom, whole.top)
        here = [
            (thickness.upright[level.key], level.caliper / 2)
            for level in stack.levels.values()
            if not stack.is_board(level.key[0])
            and level.box.left < x < level.box.right
            and level.box.bottom < y < level.box.top
        ]
        told = max(h + half for h, half in here) - min(h - half for h, half in here) if here else 0
        assert columns.at(x, y).upright == pytest.approx(told, abs=1e-9)


def test_an_insert_shows_in_its_own_rows_alone(thickness):
    """Without its own edges in the grid a thing of 1 mm would vanish, or fill whole cells."""
    coats = [(k, c) for k, cs in thickness.stack.coats.items() for c in cs if c.kind == "contents"]
    assert sorted(c.thickness for _, c in coats) == pytest.approx([1.0, 1.0])
    box = next(c.box for k, c in coats if k[0] == "page-2")
    columns = thickness.columns
    y = box.top - 0.01
    inside, outside = columns.at(60, y).pressed, columns.at(60, box.top + 0.01).pressed
    assert inside - outside == pytest.approx(1.0)


def test_the_seam_row_is_a_paper_and_a_tape_thicker_in_each_pocket(thickness):
    columns, whole = thickness.columns, thickness.columns.whole
    x = (whole.left + whole.right) / 2
    seam, plain = columns.at(x, whole.top - 6), columns.at(x, whole.top - 14)
    assert seam.pressed - plain.pressed == pytest.approx(3 * (PAPER + TAPE), abs=1e-9)


def test_the_most_of_a_box_is_that_of_its_thickest_cell(thickness):
    columns, whole = thickness.columns, thickness.columns.whole
    assert columns.most(whole).pressed == pytest.approx(columns.pressed.max())
    assert columns.most(Box(-50, -50, -40, -40)) == (0.0, 0.0)
