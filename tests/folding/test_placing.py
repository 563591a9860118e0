"""Where joins put panels: sides, turns, heights, and by how much two places differ."""

from __future__ import annotations

from fractions import Fraction

import pytest
from composed import album, composed, folded, plain

from dielines.bindings.bound import Join
from dielines.folding.assembly import bench_of
from dielines.folding.placing import (
    angle_between,
    is_whole,
    landing_box,
    lying,
    mismatch_of,
    quarters_of,
)
from dielines.part import Side
from dielines.paths import Bounds, Point
from dielines.rigid import AT_REST, Pose, turn_about

ZONE = Bounds(Fraction(1), Fraction(2), Fraction(31, 7), Fraction(9))
HEIGHT = Fraction(2, 7)


def join(side=Side.FACE, onto=Side.FACE, width=Fraction(24, 7), height=Fraction(7)) -> Join:
    offset = Point(Fraction(100, 3), Fraction(-5, 3))
    return Join(1, "a", "zone", "tab", side, "b", "page", onto, offset, width, height)


@pytest.mark.parametrize("side", Side)
@pytest.mark.parametrize("onto", Side)
@pytest.mark.parametrize("quarter", [0, 2])
def test_the_tape_covers_its_place_on_the_target_and_looks_at_it(side, onto, quarter) -> None:
    taped = join(side, onto)
    pose = lying(taped, ZONE, HEIGHT, quarter)
    corners = [pose.at((x, y)) for x in (ZONE.left, ZONE.right) for y in (ZONE.bottom, ZONE.top)]
    box = landing_box(taped)
    assert {c[0] for c in corners} == {box.left, box.right}
    assert {c[1] for c in corners} == {box.bottom, box.top}
    away = 1 if onto is Side.FACE else -1
    assert {c[2] for c in corners} == {away * HEIGHT}
    looks = pose.normal[2] * (1 if side is Side.FACE else -1)
    assert looks == -away


def test_a_zone_that_lies_across_is_turned_by_a_quarter() -> None:
    across = join(width=Fraction(7), height=Fraction(24, 7))
    assert quarters_of(across, ZONE) == (1, 3)
    pose = lying(across, ZONE, HEIGHT, 1)
    box = landing_box(across)
    corners = [pose.at((x, y)) for x in (ZONE.left, ZONE.right) for y in (ZONE.bottom, ZONE.top)]
    assert {c[0] for c in corners} == {box.left, box.right}
    assert quarters_of(join(), ZONE) == (0, 2)


def test_a_share_of_a_zone_is_not_the_whole_of_it() -> None:
    assert is_whole(join(), ZONE)
    assert is_whole(join(width=Fraction(7), height=Fraction(24, 7)), ZONE)
    assert not is_whole(join(width=Fraction(22, 7)), ZONE)


@pytest.mark.parametrize("onto", Side)
def test_a_mismatch_is_told_in_the_plane_along_the_normal_and_in_angle(onto) -> None:
    taped = join(Side.REVERSE, onto)
    wanted = lying(taped, ZONE, HEIGHT)
    target = turn_about(Point(0, 0), Point(0, 1), 90)
    away = 1 if onto is Side.FACE else -1
    x, y, z = wanted.translation
    moved = Pose(wanted.rotation, (x + 3, y - 4, z + away * Fraction(1, 3)))
    found = mismatch_of(taped, ZONE, wanted, target.compose(moved), target)
    assert found.in_plane == pytest.approx(5)
    assert found.along_normal == pytest.approx(1 / 3)
    assert found.angle_deg == pytest.approx(0)
    assert found.shift == (3, -4)


@pytest.mark.parametrize("angle", [0, 1 / 7, 90, 180])
def test_the_angle_between_two_poses_is_that_of_the_turn_between_them(angle) -> None:
    turned = turn_about(Point(3, 1), Point(5, 7), angle)
    assert angle_between(AT_REST, turned) == pytest.approx(angle, abs=1e-6)


def test_joined_panels_lie_half_of_each_the_tape_and_their_coats_apart() -> None:
    book = composed(album('"side pocket", "flap", "flap", "plain leaf"'))
    tab = next(j for j in book.joins if j.part == "page-2" and j.onto_part == "page-1")
    board = next(j for j in book.joins if j.part == "page-1" and j.onto_part == "front-board")
    inch = 25.4
    bare = bench_of(plain(book), folded(plain(book)))
    assert float(bare.height(tab)) == pytest.approx((0.0095 + 0.005) * inch)
    assert float(bare.height(board)) == pytest.approx((0.0095 / 2 + 0.04 + 0.005) * inch)
    coated = bench_of(book, folded(book))
    # the reinforcement of the tab, and the lap of that of page 1 under it
    assert float(coated.height(tab)) == pytest.approx((0.0095 + 0.005 + 2 * 0.006) * inch)
    assert float(coated.height(board)) == pytest.approx((0.0095 / 2 + 0.04 + 0.005 + 0.006) * inch)
