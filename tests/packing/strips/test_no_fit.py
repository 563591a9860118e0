import math
import random

import numpy as np
import pytest
from shapely.affinity import translate
from shapely.geometry import Polygon
from strip_samples import star

from dielines.packing.strips.convex import side
from dielines.packing.strips.no_fit import depths, guarded, lying, no_fit, reach
from dielines.packing.strips.outline import Outline


def overlapping(one, other, pitch):
    """Return every offset in pitches at which the polygons overlap, by another library."""
    a, b = Polygon(*one.outline), Polygon(*other.outline)
    far = (max(one.width, other.width, one.height, other.height) // pitch) + 2
    offsets = [(x, y) for x in range(-far, far + 1) for y in range(-far, far + 1)]
    moved = [(x, y, translate(b, x * pitch, y * pitch)) for x, y in offsets]
    return {(x, y) for x, y, part in moved if a.intersection(part).area > 1e-7}


def forbidden(one, other, pitch):
    """Return the same from our raster."""
    left, _, below, _ = reach(one, other, pitch)
    return {(x - left, y - below) for x, y in np.argwhere(no_fit(one, other, pitch)).tolist()}


@pytest.mark.parametrize("pitch", [1, 3, 7])
def test_parts_are_kept_from_each_other_exactly_where_they_would_overlap(pitch):
    draw, seen = random.Random(pitch), 0
    while seen < 4:
        rings = [star(draw, draw.randint(3, 9), 5 * pitch) for _ in range(2)]
        if all(Polygon(ring).is_valid and Polygon(ring).area > 1 for ring in rings):
            one, other = lying(0, Outline(rings[0]), 0, 0), lying(1, Outline(rings[1]), seen, 0)
            assert forbidden(one, other, pitch) == overlapping(one, other, pitch)
            seen += 1


def test_a_small_part_may_lie_in_a_window_and_touch_its_edges():
    frame = Outline(((0, 0), (11, 0), (11, 9), (0, 9)), (((2, 2), (8, 2), (8, 7), (2, 7)),))
    one, other = lying(0, frame, 1, 0), lying(1, Outline(((0, 0), (5, 0), (5, 6), (0, 6))), 0, 0)
    assert forbidden(one, other, 1) == overlapping(one, other, 1)
    assert (2, 2) not in forbidden(one, other, 1)
    assert (2, 3) in forbidden(one, other, 1)


def test_the_depth_is_the_way_out_in_eighths_of_a_pitch():
    square = lying(0, Outline(((0, 0), (6, 0), (6, 6), (0, 6))), 0, 0)
    found = depths(no_fit(square, square, 2))
    assert found.shape == (5, 5)
    assert found[2].tolist() == [8, 16, 24, 16, 8]
    corner = lying(0, Outline(((0, 0), (4, 0), (0, 4))), 0, 0)
    assert depths(no_fit(corner, corner, 1)).max() == round(8 * 8**0.5)


@pytest.mark.parametrize("gap", [1, 2, 3, 4, 5, 7, 11, 29, 113])
def test_a_guarded_corner_is_round_by_at_most_a_unit_and_2_percent(gap):
    point = ((0, 0), (0, 0), (0, 0))
    (ring,) = guarded((point[:1],), gap)
    edges = list(zip(ring, (*ring[1:], ring[0]), strict=True))
    far = [side(a, b, (0, 0)) / math.dist(a, b) for a, b in edges]
    assert min(far) >= gap - 1e-9
    assert max(math.hypot(x, y) for x, y in ring) <= 1.02 * gap + 2**0.5
    assert max(x for x, _ in ring) == max(y for _, y in ring) == gap
    assert min(side(ring[i - 2], ring[i - 1], ring[i]) for i in range(len(ring))) >= 0


def test_parts_keep_the_gap_and_little_more():
    draw, gap, pitch = random.Random(9), 11, 3
    for seen in range(4):
        one = lying(0, Outline(star(draw, 7, 31)), 0, gap)
        other = lying(1, Outline(star(draw, 5, 23)), seen, gap)
        a, b = Polygon(*one.outline), Polygon(*other.outline)
        near = forbidden(one, other, pitch)
        for x in range(-30, 31):
            for y in range(-30, 31):
                distance = a.distance(translate(b, x * pitch, y * pitch))
                assert distance < 1.02 * gap + 2**0.5 if (x, y) in near else distance >= gap - 1e-9
