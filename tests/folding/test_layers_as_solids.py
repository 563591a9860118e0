"""A second opinion from a library of solids: with the heights found, no two panels intersect."""

from __future__ import annotations

import itertools

import pytest
from manifold3d import Manifold
from random_books import random_book
from thick_books import composed, holding, mixed_book

from dielines.folding.thickness import Thickness

LEAST = 1e-3  #: mm3; what is less comes from rounding


def solids(thickness: Thickness, heights) -> dict[tuple[str, str], Manifold]:
    """Every level panel as a slab as thick as its stock, at its height."""
    made = {}
    for key, level in thickness.stack.levels.items():
        box = level.box
        slab = Manifold.cube(
            (box.right - box.left, box.top - box.bottom, level.caliper), center=False
        )
        low = heights[key] - level.caliper / 2
        made[key] = slab.translate((box.left, box.bottom, low))
    return made


def clashes(thickness: Thickness, heights) -> list[tuple[tuple[str, str], tuple[str, str]]]:
    """Every two panels that share more than a little room."""
    made = solids(thickness, heights)
    return [
        (a, b) for a, b in itertools.combinations(made, 2) if (made[a] ^ made[b]).volume() > LEAST
    ]


@pytest.fixture(scope="module")
def four(tmp_path_factory):
    text = mixed_book(4, holding(1, "5 x 3", "1/12"))
    return composed(tmp_path_factory.mktemp("solids"), text).thickness


def test_panels_folded_from_paper_without_thickness_intersect(four):
    rigid = {key: level.rigid for key, level in four.stack.levels.items()}
    assert {("page-3", "seam"), ("page-3", "back")} in map(set, clashes(four, rigid))


def test_panels_at_their_upright_heights_do_not_intersect(four):
    assert clashes(four, four.upright) == []


def test_panels_pressed_do_not_intersect(four):
    assert clashes(four, four.pressed) == []


@pytest.mark.parametrize("seed", [0, 2, 8, 9, 13, 28, 34])
def test_no_panels_of_a_random_book_intersect(tmp_path, seed):
    thickness = composed(tmp_path, random_book(seed), workshop="").thickness
    assert len(thickness.stack.levels) > 3
    assert clashes(thickness, thickness.upright) == []
    assert clashes(thickness, thickness.pressed) == []


def test_a_panel_that_is_lowered_by_a_paper_is_seen_to_clash(four):
    lowered = dict(four.pressed)
    lowered["page-3", "front"] -= 0.2413
    assert clashes(four, lowered)
