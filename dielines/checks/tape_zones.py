"""Which lines run through a zone of tape."""

from __future__ import annotations

from collections.abc import Sequence

from ..paths import Path, Point, flattened
from .flat_shapes import SAGITTA, SAME

LEAST = 0.05  #: mm; a shorter piece of a line within a zone is rounding


def within(zone: Path, lines: Sequence[Path]) -> tuple[float, Point] | None:
    """Return how many mm of *lines* lie inside *zone*, and the middle of the longest piece.

    None where nothing does; a line along the zone's border is not inside.
    """
    from shapely import LinearRing, LineString, Polygon, get_parts, intersection, length

    inside = Polygon(flattened(zone, SAGITTA)).buffer(-SAME)
    drawn = [(LinearRing if p.closed else LineString)(flattened(p, SAGITTA)) for p in lines]
    pieces = get_parts(intersection(drawn, inside))
    lengths = length(pieces)
    if not len(pieces) or lengths.max() < LEAST:
        return None
    middle = pieces[lengths.argmax()].interpolate(0.5, normalized=True)
    return float(lengths.sum()), Point(middle.x, middle.y)
