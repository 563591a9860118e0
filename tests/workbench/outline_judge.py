"""Whether a layout of outlines is right, judged by polygons and distances, not by cells."""

from collections import Counter

from shapely import affinity
from shapely.geometry import Polygon, box
from shapely.strtree import STRtree

#: what floats may miss, in the unit of the rings
NEARLY = 1e-6


def laid(rings, placed, cell):
    """Return the polygon of a part where it lies: turned, then its lower left at the place."""
    polygon = Polygon(rings[0], rings[1:])
    turned = affinity.rotate(polygon, 90 * placed.quarters, origin=(0, 0))
    left, low, _, _ = turned.bounds
    return affinity.translate(turned, placed.x * cell - left, placed.y * cell - low)


def wrong_on_outline_sheet(rings_by_kind, order, pattern, cell, gap):
    """Return what is wrong on one sheet: too close, or outside the sheet less one gap."""
    bed = order.beds[pattern.bed]
    room = box(0, 0, bed.width * cell - gap, bed.height * cell - gap).buffer(NEARLY)
    polygons = [laid(rings_by_kind[p.kind], p, cell) for p in pattern.placed]
    found = [
        f"{placed} leaves the sheet"
        for placed, polygon in zip(pattern.placed, polygons, strict=True)
        if not room.contains(polygon)
    ]
    near = STRtree(polygons).query(polygons, predicate="dwithin", distance=gap + NEARLY)
    for one, other in zip(*near, strict=True):
        if one < other and polygons[one].distance(polygons[other]) < gap - NEARLY:
            found.append(f"{pattern.placed[one]} and {pattern.placed[other]} are too close")
        if one < other and polygons[one].intersection(polygons[other]).area > NEARLY:
            found.append(f"{pattern.placed[one]} and {pattern.placed[other]} overlap")
    return found


def wrong_turns(shapes, order, pattern):
    """Return the parts that lie in a turn that is not theirs on that sheet."""
    return [
        placed
        for placed in pattern.placed
        if placed.quarters not in dict(shapes[placed.kind].lying)
        or (
            placed.quarters % 2
            and not order.boxes[placed.kind].may_turn
            and not order.beds[pattern.bed].turns_all
        )
    ]


def wrong_counts(order, runs):
    """Return the kinds of which more or fewer than wanted are placed: (kind, placed, wanted)."""
    placed = Counter()
    for pattern, times in runs:
        for part in pattern.placed:
            placed[part.kind] += times
    return [(k, placed[k], want) for k, want in enumerate(order.counts) if placed[k] != want]
