"""Panels that stand through each other; a library of solids is the second opinion. All geometry."""

import math
import random
from fractions import Fraction

import pytest
from folded_parts_of import drawn
from manifold3d import CrossSection, FillRule
from spoiling import with_steps

from dielines.folding.folded_parts import fold_part, layering_of
from dielines.folding.layering import ClashKind
from dielines.folding.meeting import Motion, between, in_floats, level_height
from dielines.folding.piercing import stand_through
from dielines.paths import Point
from dielines.rigid import AT_REST, Pose, turn_about

SQUARE = [(-10.0, -10.0), (10.0, -10.0), (10.0, 10.0), (-10.0, 10.0)]
THICK = 1e-3  #: mm


def motion(turns, x=0.0, y=0.0, z=0.0):
    """Return the motion by turns (degrees) about lines through 0 in a direction, then a shift."""
    pose = AT_REST
    for direction, angle in turns:
        end = Point(math.cos(math.radians(direction)), math.sin(math.radians(direction)))
        pose = turn_about(Point(0, 0), end, angle).compose(pose)
    moved = Pose(AT_REST.rotation, (x, y, z)).compose(pose)
    return in_floats({"panel": moved})["panel"]


def test_a_panel_across_another_stands_through_it():
    assert stand_through(SQUARE, SQUARE, motion([(0, 90)]))
    assert stand_through(SQUARE, SQUARE, motion([(37, 53)], 3, 2, 4))


@pytest.mark.parametrize("z", [10.0, 10.5, -10.0])
def test_a_panel_that_stands_on_another_or_above_it_does_not(z):
    assert not stand_through(SQUARE, SQUARE, motion([(0, 90)], z=z))


@pytest.mark.parametrize("z", [9.99, -9.99])
def test_a_hundredth_of_a_millimetre_through_is_through(z):
    assert stand_through(SQUARE, SQUARE, motion([(0, 90)], z=z))


def test_panels_that_meet_in_their_edges_do_not():
    wall = [(-10.0, 0.0), (10.0, 0.0), (10.0, 20.0), (-10.0, 20.0)]
    at_edge = motion([(0, 90)], y=10.0)
    assert not stand_through(SQUARE, wall, at_edge)
    assert not stand_through(wall, SQUARE, between(at_edge, motion([])))
    assert not stand_through(SQUARE, SQUARE, motion([(0, 90)], y=10.0))  # it passes along the edge
    assert stand_through(SQUARE, SQUARE, motion([(0, 90)], y=9.99))


def test_a_corner_that_goes_through_is_seen_though_two_edges_meet_in_it():
    diamond = [(-10.0, 0.0), (0.0, -10.0), (10.0, 0.0), (0.0, 10.0)]
    assert stand_through(SQUARE, diamond, motion([(0, 90)]))  # its corners lie in the plane


def test_what_stands_in_a_bay_of_a_panel_is_not_through_it():
    bay = [(-10.0, -10.0), (10.0, -10.0), (10.0, 10.0), (5.0, 10.0), (5.0, -5.0), (-5.0, -5.0),
           (-5.0, 10.0), (-10.0, 10.0)]  # fmt: skip
    narrow = [(-4.0, -4.0), (4.0, -4.0), (4.0, 4.0), (-4.0, 4.0)]
    wide = [(-6.0, -4.0), (6.0, -4.0), (6.0, 4.0), (-6.0, 4.0)]
    assert not stand_through(bay, narrow, motion([(0, 90)]))
    assert stand_through(bay, wide, motion([(0, 90)]))


def slab(corners, placed: Motion):
    """Return a panel, very little smaller all round, as a thin solid at its place in space."""
    flat = CrossSection([corners], FillRule.NonZero).offset(-2e-3)
    a, b, c, d, e, f, g, h, i, x, y, z = placed
    solid = flat.extrude(THICK).translate((0, 0, -THICK / 2))
    return solid.transform([[a, b, c, x], [d, e, f, y], [g, h, i, z]])


@pytest.mark.parametrize("seed", range(150))
def test_random_panels_stand_through_each_other_where_solids_do(seed):
    dice = random.Random(seed)
    shapes = [SQUARE, [(-8.0, -3.0), (9.0, -5.0), (2.0, 11.0)],
              [(-9.0, -9.0), (9.0, -9.0), (9.0, 9.0), (3.0, 9.0), (3.0, -2.0), (-9.0, -2.0)]]  # fmt: skip
    first, second = dice.choice(shapes), dice.choice(shapes)
    turns = [(dice.uniform(0, 360), dice.choice((90, 45, dice.uniform(5, 175)))) for _ in "ab"]
    placed = motion(turns, *(dice.uniform(-9, 9) for _ in "xyz"))
    shared = (slab(first, motion([])) ^ slab(second, placed)).volume()
    assert stand_through(first, second, placed) == (shared > 0)
    assert stand_through(second, first, between(placed, motion([]))) == (shared > 0)


@pytest.mark.parametrize("seed", range(60))
def test_strips_folded_by_right_angles_are_pierced_where_solids_share_room(seed):
    dice = random.Random(f"strip {seed}")
    n = dice.choice((4, 5, 6))
    widths = [Fraction(dice.choice((50, 100, 130, 200)), 7) for _ in range(n)]
    angles = [dice.choice((90, -90, 60)) for _ in range(n - 1)]
    row = "20 : " + " ".join(f"p{k}" for k in range(n))
    folds = [f'"p{k} | p{k + 1}" = {angle}' for k, angle in enumerate(angles)]
    part = drawn(", ".join(f'"{w}"' for w in widths), [row], folds, "* | *")
    folded = fold_part(part)
    placed = in_floats(folded.poses)
    corners = {k: [(float(x), float(y)) for x, y in p.points] for k, p in folded.outlines.items()}
    solids = {name: slab(corners[name], at) for name, at in placed.items()}
    expected = {
        (a, b)
        for a in solids
        for b in solids
        if a < b
        and level_height(between(placed[a], placed[b])) is None
        and (solids[a] ^ solids[b]).volume() > 0
    }
    found = {(c.first, c.second) for c in folded.layering.clashes if c.kind is ClashKind.PIERCED}
    assert found == expected


def rolled(outer, inner):
    folds = [f'"p{n} | p{n + 1}" = 90' for n in range(4)]
    part = drawn(f"100, {outer}, 90, {inner}, 80", ["40 : p0 p1 p2 p3 p4"], folds, "* | *")
    return layering_of(with_steps(part, "p2 | p3, p3 | p4", "p0 | p1, p1 | p2"))


def test_in_a_roll_the_inner_gusset_must_be_the_smaller_one():
    assert rolled(8, 4).clashes == ()
    wrong = [c for c in rolled(4, 8).clashes if c.kind is ClashKind.PIERCED]
    assert [(c.first, c.second, c.step) for c in wrong] == [("p0", "p3", 2)]


def test_a_pierced_panel_is_told_once_with_the_first_step_in_which_it_stands_so():
    folds = [f'"p{n} | p{n + 1}" = 90' for n in range(4)]
    part = drawn("100, 4, 90, 8, 80", ["40 : p0 p1 p2 p3 p4"], folds, "* | *")
    steps = ("p0 | p1, p1 | p2", "p2 | p3", "p3 | p4")
    clashes = [
        c for c in layering_of(with_steps(part, *steps)).clashes if c.kind is ClashKind.PIERCED
    ]
    assert [(c.first, c.second, c.step) for c in clashes] == [("p0", "p3", 2)]
