"""What lies inside the folds of a folded part."""

from __future__ import annotations

from fractions import Fraction

import pytest

from dielines.checks.folded_edges import inside, nooks, ruler_of
from dielines.folding.folded_parts import fold_part
from dielines.language.building import build
from dielines.language.library import built_in_library

CALIPERS = {"cardstock": Fraction(24, 100)}


def folded(template: str):
    return fold_part(build(built_in_library().find(template), {}, CALIPERS).parts[0])


@pytest.fixture(scope="module")
def roll():
    return folded("roll-fold")


def held(part, wall):
    return [
        ({nook.first, nook.second}, [panel.panel for panel in inside(part, nook)])
        for nook in nooks(part)
        if nook.wall == wall
    ]


def test_the_second_leaf_of_a_roll_lies_inside_the_first_gusset(roll):
    assert held(roll, "gusset1") == [({"page", "leaf1"}, ["leaf2"])]
    assert held(roll, "gusset2") == [({"leaf1", "leaf2"}, [])]


def test_the_seam_of_a_pocket_lies_inside_its_tail_and_the_back_outside_its_head():
    part = folded("side-pocket")
    assert held(part, "tail") == [({"front", "back"}, ["seam"])]
    assert held(part, "head") == [({"seam", "front"}, [])]


def test_a_fold_shut_on_itself_is_a_nook_without_wall():
    part = folded("tiered-pockets")
    assert {frozenset((n.first, n.second)) for n in nooks(part)} >= {
        frozenset(("back1", "front1")), frozenset(("front1", "back2")),
    }  # fmt: skip
    assert all(not nook.wall for nook in nooks(part))


def test_depths_count_from_the_fold_into_its_panel(roll):
    (nook,) = [n for n in nooks(roll) if n.wall == "gusset1"]
    ruler = ruler_of(roll.part, nook)
    box = roll.part.panel(nook.first).bounds()
    corners = roll.part.panel(nook.first).outline.points
    depths = sorted(ruler.depth(c) for c in corners)
    assert depths == pytest.approx([0, 0, float(box.width), float(box.width)])
    assert ruler.length == pytest.approx(float(box.height))
    assert sorted(ruler.along(c) for c in corners)[0] == pytest.approx(0)


def test_a_leaf_inside_ends_by_its_shortening_before_the_fold(roll):
    (nook,) = [n for n in nooks(roll) if n.wall == "gusset1"]
    ruler = ruler_of(roll.part, nook)
    (leaf,) = inside(roll, nook)
    nearest = min(ruler.depth(p) for p in leaf.outline.points)
    less = roll.part.parameters["less"]
    expected = float(less.mm)
    if nook.first == "page":
        assert nearest == pytest.approx(expected)
    else:
        assert nearest == pytest.approx(0, abs=1e-6) or nearest == pytest.approx(expected)
