"""Turn-ins of a wrap at corners of any angle: what the cut leaves, and where it leaves off.

Plane geometry, except that 1.5 thicknesses of the board as the distance from its
corner to the cut is a published worksheet (VALUES.md, section 5).
"""

import math
from fractions import Fraction

import pytest
from shapely import Polygon

from dielines.language.building import build
from dielines.language.template import template_from_text
from dielines.paths import flattened

CALIPERS = {"covering": Fraction(15, 100), "board": Fraction(2)}
DEPTH = 19


def wrap(point: float, allowance: float):
    """A wrap around a board 90 high whose right side stands out to a point."""
    text = f"""template = "wrap"
kind = "case"
units = "mm"
[parts.wrap]
stock = "covering"
turn_in = {DEPTH}
mitre = {allowance}
boards = [{{ board = "board", outline = [[0, 0], [120, 0], [{120 + point}, 45], [120, 90], [0, 90]] }}]"""
    return build(template_from_text(text), {}, CALIPERS).parts[0]


def polygon(path) -> Polygon:
    return Polygon(flattened(path))


@pytest.mark.parametrize("allowance", [0, 2, 3, 6])
@pytest.mark.parametrize("point", [1, 4, 10, 45, 90])
def test_turn_ins_are_whole_and_apart_at_corners_from_53_to_177_degrees(point, allowance):
    part = wrap(point, allowance)
    shapes = [polygon(panel.outline) for panel in part.panels]
    assert all(shape.is_valid for shape in shapes)
    assert polygon(part.outline[0]).is_valid
    total = sum(shape.area for shape in shapes)
    assert polygon(part.outline[0]).area == pytest.approx(total)


def test_a_corner_so_blunt_that_the_cut_would_lie_outside_stays_whole():
    """At the point the corner is 2 atan(45 / 1) = 177.45 degrees; the cut of 3 would begin 67 out."""
    blunt = wrap(1, 3)
    half = math.atan(45)
    assert 3 / math.sin(2 * half) > DEPTH / math.sin(half)
    right = max(x for x, _ in flattened(blunt.outline[0]))
    board = max(x for x, _ in flattened(blunt.panel("board").outline))
    assert right - board == pytest.approx(DEPTH / math.sin(half))


def test_a_right_corner_is_cut_straight_at_the_allowance_from_the_board():
    """Beyond the corner the cut stands sqrt 2 x 3 = 4.243 along each edge."""
    part = wrap(4, 3)
    fold = part.panel("board").bounds()
    ring = flattened(part.outline[0])
    at_left = [(x - fold.left, y - fold.bottom) for x, y in ring if x < fold.left]
    assert any(
        x == pytest.approx(-DEPTH) and y == pytest.approx(DEPTH - 3 * math.sqrt(2))
        for x, y in at_left
    )
