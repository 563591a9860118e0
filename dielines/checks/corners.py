"""How sharp the corners of the paper are."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from ..paths import Point, Segment, arc_of
from .flat_shapes import SAME, FlatShapes, Place, nearest_on

LEAST_SIDE = 0.05  #: mm; shorter pieces of a cut are no side of a corner
AWAY = 0.01  #: mm; so far from its tip a corner is looked at
ON_IT = 0.03  #: mm; a slit that ends so near to a cut ends on it: more than a chord is off its arc
FULL = 360.0
_Cell = tuple[int, int]


@dataclass(frozen=True)
class Corner:
    """A corner of paper: its tip, and the angle of the paper between its sides."""

    tip: Place
    angle_deg: float
    inside: Place  #: a place between its sides, near the tip


def sharp_corners(shapes: FlatShapes, below_deg: float) -> list[Corner]:
    """Return the corners of paper that are sharper than *below_deg*, the sharpest first."""
    found = [
        corner
        for tip, directions in _directions(shapes).values()
        for corner in _corners(tip, sorted(directions))
        if corner.angle_deg < below_deg and shapes.is_paper(corner.inside)
    ]
    return sorted(found, key=lambda corner: (corner.angle_deg, corner.tip))


def _corners(tip: Place, directions: list[float]) -> Iterator[Corner]:
    """Yield what lies between each direction in which a cut leaves *tip* and the next."""
    for start, end in zip(directions, [*directions[1:], directions[0] + FULL], strict=True):
        if start < end < start + FULL:
            middle = math.radians((start + end) / 2)
            inside = (tip[0] + AWAY * math.cos(middle), tip[1] + AWAY * math.sin(middle))
            yield Corner(tip, end - start, inside)


def _directions(shapes: FlatShapes) -> Mapping[_Cell, tuple[Place, list[float]]]:
    """Return where cuts turn, end or meet, and in which directions (degrees) they leave there."""
    found: dict[_Cell, tuple[Place, list[float]]] = {}
    for cut in shapes.cuts:
        for segment in cut.path.segments():
            if math.dist(segment.start, segment.end) > LEAST_SIDE:
                for end, heading in zip(segment[:2], _headings(segment), strict=True):
                    _at(found, end)[1].append(heading)
    for end in _slit_ends(shapes):
        tip, directions = _at(found, end)
        directions.extend(_edges_through(shapes, tip))
    return found


def _at(found: dict[_Cell, tuple[Place, list[float]]], point: Point) -> tuple[Place, list[float]]:
    """Return the entry of a place, a new one where there is none; rounding does not part places."""
    x, y = float(point.x), float(point.y)
    return found.setdefault((round(x / SAME), round(y / SAME)), ((x, y), []))


def _slit_ends(shapes: FlatShapes) -> Iterator[Point]:
    for cut in shapes.cuts:
        if not cut.is_ring:
            yield from (cut.path.points[0], cut.path.points[-1])


def _edges_through(shapes: FlatShapes, end: Place) -> Iterator[float]:
    """Yield both directions of each cut on whose way, not at whose ends, a slit ends."""
    for piece in shapes.cut_pieces:
        ends_there = min(math.dist(end, piece.start), math.dist(end, piece.end)) < LEAST_SIDE
        if not ends_there and math.dist(end, nearest_on(piece, end)) < ON_IT:
            (x0, y0), (x1, y1) = piece.start, piece.end
            along = math.degrees(math.atan2(y1 - y0, x1 - x0)) % FULL
            yield from (along, (along + FULL / 2) % FULL)


def _headings(segment: Segment) -> tuple[float, float]:
    """Return the directions in which a line or arc leaves its start and, backwards, its end."""
    dx, dy = (float(b - a) for a, b in zip(segment.start, segment.end, strict=True))
    chord = math.degrees(math.atan2(dy, dx))
    # Tangent and chord of an arc differ by half of its angle (Euclid, Elements III.32).
    half = math.degrees(arc_of(segment).sweep) / 2 if segment.bulge else 0.0
    return (chord - half) % FULL, (chord + half + FULL / 2) % FULL
