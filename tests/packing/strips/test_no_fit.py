import random

import numpy as np
import pytest
from shapely.affinity import translate
from shapely.geometry import Polygon
from strip_samples import star

from dielines.packing.strips.no_fit import depths, lying, no_fit, reach
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
    left, below = reach(other.width, pitch), reach(other.height, pitch)
    return {(x - left, y - below) for x, y in np.argwhere(no_fit(one, other, pitch)).tolist()}


@pytest.mark.parametrize("pitch", [1, 3, 7])
def test_parts_are_kept_from_each_other_exactly_where_they_would_overlap(pitch):
    draw, seen = random.Random(pitch), 0
    while seen < 4:
        rings = [star(draw, draw.randint(3, 9), 5 * pitch) for _ in range(2)]
        if all(Polygon(ring).is_valid and Polygon(ring).area > 1 for ring in rings):
            one, other = lying(0, Outline(rings[0]), 0), lying(1, Outline(rings[1]), seen)
            assert forbidden(one, other, pitch) == overlapping(one, other, pitch)
            seen += 1


def test_a_small_part_may_lie_in_a_window_and_touch_its_edges():
    frame = Outline(((0, 0), (11, 0), (11, 9), (0, 9)), (((2, 2), (8, 2), (8, 7), (2, 7)),))
    one, other = lying(0, frame, 1), lying(1, Outline(((0, 0), (5, 0), (5, 6), (0, 6))), 0)
    assert forbidden(one, other, 1) == overlapping(one, other, 1)
    assert (2, 2) not in forbidden(one, other, 1)
    assert (2, 3) in forbidden(one, other, 1)


def test_the_depth_is_the_way_out_in_eighths_of_a_pitch():
    square = lying(0, Outline(((0, 0), (6, 0), (6, 6), (0, 6))), 0)
    found = depths(no_fit(square, square, 2))
    assert found.shape == (5, 5)
    assert found[2].tolist() == [8, 16, 24, 16, 8]
    corner = lying(0, Outline(((0, 0), (4, 0), (0, 4))), 0)
    assert depths(no_fit(corner, corner, 1)).max() == round(8 * 8**0.5)
