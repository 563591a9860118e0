"""A closed path drawn in by the same distance all round; arcs stay true arcs.

The inside lies at the left of the way: an exterior runs counter-clockwise and
shrinks, an interior runs clockwise and grows.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from fractions import Fraction

from .meetings import circles_meet, line_meets_circle
from .paths import (
    Arc,
    Number,
    Path,
    Point,
    Segment,
    Vertex,
    arc_of,
    distance,
    flattened,
    signed_area,
)

_TANGENT = 1e-9  #: sine of the angle up to which two pieces run on smoothly
_CHORD = 1e-3  #: mm; how far chords are off that stand for an arc while distances are checked


class NothingLeft(ValueError):
    """Nothing is left of a path that is drawn in so far."""


def inset(path: Path, by: Number) -> Path:
    """Return *path* drawn in by *by*, mm; raises NothingLeft.

    Straight edges move to their parallels, arcs keep their centre, and
    neighbours are cut or prolonged to where they meet. An arc that shrinks to
    nothing goes.
    """
    if not by:
        return path
    pieces = [piece for piece in path.segments() if _survives(piece, by)]
    corners = _corners(pieces, by)
    if len(pieces) < 2 or any(left <= 0 for left in _shares_left(pieces, corners)):
        raise _nothing_left(by)
    return _drawn(path, pieces, corners, by)


def inset_past_short_edges(path: Path, by: Number) -> Path:
    """Return *path* drawn in by *by*, mm, where an edge may go as an arc may; raises NothingLeft.

    The neighbours of an edge that shrinks to nothing are prolonged until they
    meet: so a tool that is *by* from its edge to its middle comes as deep into a
    narrow notch as it can.
    """
    pieces = [piece for piece in path.segments() if _survives(piece, by)]
    while len(pieces) >= 2:
        corners = _corners(pieces, by)
        shares = _shares_left(pieces, corners)
        first = min(range(len(pieces)), key=lambda i: (shares[i], i))
        if shares[first] > 0:
            return _keeping_off(path, _drawn(path, pieces, corners, by), by)
        del pieces[first]
    raise _nothing_left(by)


def _keeping_off(path: Path, result: Path, by: Number) -> Path:
    """Return *result* if it is nowhere nearer to *path* than *by*, for any edge may have gone."""
    from shapely import LinearRing

    ring, other = (LinearRing(flattened(each, _CHORD)) for each in (path, result))
    if ring.distance(other) < float(by) - 3 * _CHORD:
        raise _nothing_left(by)
    return result


def _drawn(path: Path, pieces: Sequence[Segment], corners: Sequence[Point], by: Number) -> Path:
    """Return the path of the moved *pieces*; raises NothingLeft where it crosses itself."""
    ends = [*corners[1:], corners[0]]
    moved = (_moved(*piece, by) for piece in zip(pieces, corners, ends, strict=True))
    result = Path(tuple(moved))
    if not _same_sign(path, result) or _crosses_itself(result):
        raise _nothing_left(by)
    return result


def _nothing_left(by: Number) -> NothingLeft:
    return NothingLeft(f"nothing is left of a path drawn in by {float(by):.3f} mm")


def _corners(pieces: Sequence[Segment], by: Number) -> list[Point]:
    """Return where each moved piece starts."""
    return [_meeting(pieces[i - 1], pieces[i], by) for i in range(len(pieces))]


def _survives(piece: Segment, by: Number) -> bool:
    return piece.bulge <= 0 or arc_of(piece).radius > by + 1e-9


def _crosses_itself(path: Path) -> bool:
    """Return whether one side of a path has come through another; a rectangle cannot."""
    if len(path.vertices) == 4 and all(map(_is_upright, path.segments())):
        return False
    from shapely import Polygon

    return not Polygon(flattened(path)).is_valid


def _is_upright(piece: Segment) -> bool:
    """Return whether a piece runs straight across or straight up."""
    level = piece.start.x == piece.end.x or piece.start.y == piece.end.y
    return level and not piece.bulge


def _same_sign(before: Path, after: Path) -> bool:
    return float(signed_area(before)) * float(signed_area(after)) > 0


def _meeting(before: Segment, after: Segment, by: Number) -> Point:
    """Return where the inner parallels of two neighbouring pieces meet."""
    corner = after.start
    u, v = _way_at_end(before), _way_at_start(after)
    cross = u[0] * v[1] - u[1] * v[0]
    if abs(float(cross)) < _TANGENT:
        return Point(corner.x - v[1] * by, corner.y + v[0] * by)
    if not before.bulge and not after.bulge:
        # both parallels: from the meeting point of the lines by (v - u) / (u x v)
        meeting = corner if before.end == corner else _lines_meet(before, after, cross)
        return Point(meeting.x + by * (v[0] - u[0]) / cross, meeting.y + by * (v[1] - u[1]) / cross)
    places = _curves_meet(before, after, by)
    if not places:
        raise NothingLeft("neighbouring edges no longer meet")
    return min(places, key=lambda p: float(distance(p, corner)))


def _lines_meet(before: Segment, after: Segment, cross: Number) -> Point:
    """Return where two lines meet that were parted by a corner that is gone."""
    u = _way_at_end(before)
    v = _way_at_start(after)
    wx, wy = after.start.x - before.end.x, after.start.y - before.end.y
    along = (wx * v[1] - wy * v[0]) / cross
    return Point(before.end.x + along * u[0], before.end.y + along * u[1])


def _way_at_start(piece: Segment) -> tuple[Number, Number]:
    """Return the unit vector in which a piece sets out."""
    length = distance(piece.start, piece.end)
    ux, uy = (piece.end.x - piece.start.x) / length, (piece.end.y - piece.start.y) / length
    return _turned(ux, uy, -2 * math.atan(piece.bulge)) if piece.bulge else (ux, uy)


def _way_at_end(piece: Segment) -> tuple[Number, Number]:
    """Return the unit vector in which a piece arrives."""
    length = distance(piece.start, piece.end)
    ux, uy = (piece.end.x - piece.start.x) / length, (piece.end.y - piece.start.y) / length
    return _turned(ux, uy, 2 * math.atan(piece.bulge)) if piece.bulge else (ux, uy)


def _turned(x: Number, y: Number, angle: float) -> tuple[Number, Number]:
    cosine, sine = math.cos(angle), math.sin(angle)
    return x * cosine - y * sine, x * sine + y * cosine


def _curves_meet(before: Segment, after: Segment, by: Number) -> list[Point]:
    """Return where the endless parallels of two pieces meet, one of them an arc."""
    if before.bulge and after.bulge:
        return circles_meet(_parallel_arc(before, by), _parallel_arc(after, by))
    line, arc = (after, before) if before.bulge else (before, after)
    ux, uy = _way_at_start(line)
    start = Point(line.start.x - uy * by, line.start.y + ux * by)
    return line_meets_circle(start, (ux, uy), _parallel_arc(arc, by))


def _parallel_arc(piece: Segment, by: Number) -> Arc:
    """Return the arc inside: smaller where the inside lies at its centre, else larger."""
    arc = arc_of(piece)
    return arc._replace(radius=arc.radius - math.copysign(float(by), piece.bulge))


def _moved(piece: Segment, start: Point, end: Point, by: Number) -> Vertex:
    """Return the first vertex of a moved piece with its new bulge."""
    if not piece.bulge:
        return Vertex(*start)
    arc = _parallel_arc(piece, by)
    first = math.atan2(start.y - arc.centre.y, start.x - arc.centre.x)
    last = math.atan2(end.y - arc.centre.y, end.x - arc.centre.x)
    sweep = (last - first) % (2 * math.pi)
    if piece.bulge < 0:
        sweep -= 2 * math.pi
    return Vertex(*start, math.tan(sweep / 4))


def _shares_left(pieces: Sequence[Segment], corners: Sequence[Point]) -> list[Number]:
    """Return what share of each piece is left; 0 or less where a straight one would turn round."""
    ends = [*corners[1:], *corners[:1]]
    return [
        Fraction(1) if piece.bulge else _share_left(piece, start, end)
        for piece, start, end in zip(pieces, corners, ends, strict=True)
    ]


def _share_left(piece: Segment, start: Point, end: Point) -> Number:
    dx, dy = piece.end.x - piece.start.x, piece.end.y - piece.start.y
    return ((end.x - start.x) * dx + (end.y - start.y) * dy) / (dx * dx + dy * dy)
