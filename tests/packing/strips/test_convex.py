import random

import pytest
from shapely.geometry import Polygon
from shapely.ops import unary_union
from strip_samples import star

from dielines.packing.strips.convex import CrossingOutline, convex_pieces, side
from dielines.packing.strips.outline import Outline, twice_area


def is_convex(ring):
    turns = [side(ring[i - 2], ring[i - 1], ring[i]) for i in range(len(ring))]
    return min(turns) > 0


def assert_fills(outline):
    pieces = convex_pieces(outline)
    assert all(is_convex(piece) for piece in pieces)
    assert sum(twice_area(piece) for piece in pieces) == outline.twice_area
    whole = Polygon(outline.exterior, outline.holes)
    assert unary_union([Polygon(piece) for piece in pieces]).symmetric_difference(whole).area < 1e-6


def test_pieces_of_stars_are_convex_and_fill_them():
    draw, seen = random.Random(5), 0
    while seen < 150:
        ring = star(draw, draw.randint(3, 17))
        if Polygon(ring).is_valid:
            assert_fills(Outline(ring if seen % 2 else ring[::-1]))
            seen += 1


def test_a_convex_part_stays_one_piece_without_corners_on_straight_lines():
    (piece,) = convex_pieces(Outline(((0, 0), (3, 0), (7, 0), (7, 5), (0, 5), (0, 2))))
    assert sorted(piece) == [(0, 0), (0, 5), (7, 0), (7, 5)]


def test_holes_are_left_open():
    outer = ((0, 0), (31, 0), (31, 29), (0, 29))
    windows = (((3, 3), (13, 3), (13, 13), (3, 13)), ((17, 5), (23, 7), (19, 17)))
    assert_fills(Outline(outer, windows))
    assert_fills(Outline(outer, tuple(ring[::-1] for ring in windows)))


def test_an_outline_that_crosses_itself_is_refused():
    with pytest.raises(CrossingOutline):
        convex_pieces(Outline(((0, 0), (7, 7), (7, 0), (0, 5))))


def test_a_hole_outside_the_part_is_refused():
    with pytest.raises(CrossingOutline):
        convex_pieces(Outline(((0, 0), (5, 0), (5, 5), (0, 5)), (((7, 1), (9, 1), (9, 3)),)))
