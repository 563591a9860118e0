"""Which lines run through a zone of tape."""

from __future__ import annotations

from collections.abc import Sequence

from ..paths import Path, Point, bounds_of, flattened
from .flat_shapes import SAGITTA, SAME, Piece

LEAST = 0.05  #: mm; a shorter piece of a line within a zone is rounding


def within(zone: Path, pieces: Sequence[Piece]) -> tuple[float, Point] | None:
    """Return how many mm of *pieces* lie inside *zone*, to a hundredth, and the middle of the longest piece.

    None where nothing does; a line along the zone's border is not inside.
    """
    from shapely import LineString, Polygon, get_parts, intersection, length, line_merge, union_all

    near = _near(zone, pieces)
    if not near:
        return None
    inside = Polygon(flattened(zone, SAGITTA)).buffer(-SAME)
    lines = union_all(intersection([LineString([p.start, p.end]) for p in near], inside))
    found = get_parts(line_merge(lines) if lines.geom_type == "MultiLineString" else lines)
    lengths = length(found)
    if not len(found) or lengths.max() < LEAST:
        return None
    middle = found[lengths.argmax()].interpolate(0.5, normalized=True)
    return round(float(lengths.sum()), 2), Point(middle.x, middle.y)


def _near(zone: Path, pieces: Sequence[Piece]) -> list[Piece]:
    """Return the pieces that run through the rectangle around *zone*, its border left out."""
    left, bottom, right, top = (float(side) for side in bounds_of([zone]))
    return [
        piece
        for piece in pieces
        if max(piece.start[0], piece.end[0]) > left + SAME
        and min(piece.start[0], piece.end[0]) < right - SAME
        and max(piece.start[1], piece.end[1]) > bottom + SAME
        and min(piece.start[1], piece.end[1]) < top - SAME
    ]
