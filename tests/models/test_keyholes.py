"""A face with holes as one ring."""

import random

import pytest
from shapely import Point

from dielines.models.keyholes import one_ring

SQUARE = [(0.0, 0.0), (30.0, 0.0), (30.0, 20.0), (0.0, 20.0)]


def area(ring) -> float:
    after = [*ring[1:], ring[0]]
    return sum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in zip(ring, after, strict=True)) / 2


def hole(x: float, y: float, clockwise: bool):
    ring = [(x, y), (x + 7 / 3, y), (x + 7 / 3, y + 5 / 7), (x, y + 5 / 7)]
    return ring[::-1] if clockwise else ring


def test_a_face_without_holes_stays_as_it_is():
    assert one_ring([SQUARE]) == SQUARE


@pytest.mark.parametrize("clockwise", [False, True])
def test_a_hole_is_taken_out_of_the_area_however_it_runs(clockwise):
    ring = one_ring([SQUARE, hole(5, 5, clockwise)])
    assert area(ring) == pytest.approx(600 - 5 / 3)
    assert len(ring) == 4 + 4 + 2


@pytest.mark.parametrize("seed", range(6))
def test_many_holes_are_joined_by_bridges_that_cross_nothing(seed):
    draw = random.Random(seed)
    places = draw.sample([(x, y) for x in range(1, 27, 4) for y in range(1, 19, 3)], 9)
    holes = [hole(x, y, draw.random() < 0.5) for x, y in places]
    ring = one_ring([SQUARE, *holes])
    assert area(ring) == pytest.approx(600 - 9 * 5 / 3)
    counts = {}
    for a, b in zip(ring, [*ring[1:], ring[0]], strict=True):
        counts[frozenset((a, b))] = counts.get(frozenset((a, b)), 0) + 1
    assert sorted(counts.values())[-9:] == [2] * 9  # each bridge is run along twice
    assert sum(counts.values()) == len(ring)
    from shapely import Polygon, make_valid

    shape = make_valid(Polygon(ring))
    assert shape.area == pytest.approx(600 - 9 * 5 / 3)
    assert not shape.contains(Point(places[0][0] + 1, places[0][1] + 0.3))
