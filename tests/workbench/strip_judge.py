"""Whether parts on a strip lie right, judged by polygons of another library, not by our rasters.

Returns what is wrong in words; an empty list means that nothing is.
"""

from collections import Counter

from shapely import STRtree
from shapely.affinity import rotate, translate
from shapely.geometry import Polygon


def lying_polygons(order, strip):
    """Return the polygon of each part where it lies, turned and moved by the library."""
    found = []
    for part in strip.placed:
        outline = order.outlines[part.kind]
        turned = rotate(Polygon(outline.exterior, outline.holes), 90 * part.quarters, origin=(0, 0))
        left, bottom, *_ = turned.bounds
        found.append(translate(turned, part.x - left, part.y - bottom))
    return found


def too_close(one, other, gap):
    """Return whether two polygons overlap, or lie closer than the gap."""
    return one.distance(other) < gap - 1e-6 or one.intersection(other).area > 1e-6


def wrong_on_strip(order, strip):
    """Return what is wrong: parts outside, overlapping, missing, turned where they must not be."""
    found = []
    polygons = lying_polygons(order, strip)
    for part, polygon in zip(strip.placed, polygons, strict=True):
        left, bottom, right, top = polygon.bounds
        if (
            left < -1e-6
            or bottom < -1e-6
            or top > order.width + 1e-6
            or right > strip.length + 1e-6
        ):
            found.append(f"{part} leaves the strip")
        if part.quarters not in order.turns[part.kind]:
            found.append(f"{part} is turned")
    tree = STRtree(polygons)
    for one, other in tree.query(polygons, predicate="dwithin", distance=order.gap).T:
        if one < other and too_close(polygons[one], polygons[other], order.gap):
            found.append(f"{strip.placed[one]} and {strip.placed[other]} are too close")
    placed = Counter(part.kind for part in strip.placed)
    for kind, count in enumerate(order.counts):
        if placed[kind] != count:
            found.append(f"kind {kind}: {placed[kind]} of {count}")
    return found
