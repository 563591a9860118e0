"""What of a path lies within an upright rectangle: its pieces, lines and arcs kept true."""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import pairwise

from ..paths import Bounds, Number, Path, Point, Segment, Vertex, arc_of, arc_point, bounds_of

_SLACK = 1e-9  # mm; what lies this close to the border lies on it
_SHORT = 1e-9  # of a segment; a shorter piece is none


def clipped(path: Path, window: Bounds) -> tuple[Path, ...]:
    """Return the pieces of *path* within *window*, its border included, in order.

    A path that lies within as a whole comes back as it is; one that is cut comes in
    open pieces, and what only touches the border from outside leaves nothing.

    >>> from dielines.paths import rectangle
    >>> [piece.points for piece in clipped(rectangle(0, 0, 9, 4), Bounds(-1, 1, 20, 3))]
    [(Point(x=9.0, y=1), Point(x=9.0, y=3)), (Point(x=0.0, y=3), Point(x=0.0, y=1))]
    """
    if not path.vertices:
        return ()
    box = bounds_of([path])
    if _holds(window, Point(box.left, box.bottom)) and _holds(window, Point(box.right, box.top)):
        return (path,)
    if box.left > window.right or box.right < window.left:
        return ()
    if box.bottom > window.top or box.top < window.bottom:
        return ()
    runs = _runs(path, window)
    start = path.vertices[0].point
    if path.closed and runs and runs[0][0].start == start == runs[-1][-1].end:
        if len(runs) == 1:
            return (path,)
        runs = [runs[-1] + runs[0], *runs[1:-1]]
    return tuple(_open_path(run) for run in runs)


def _holds(window: Bounds, point: Point) -> bool:
    return (
        window.left - _SLACK <= point.x <= window.right + _SLACK
        and window.bottom - _SLACK <= point.y <= window.top + _SLACK
    )


def _runs(path: Path, window: Bounds) -> list[list[Segment]]:
    """Return the pieces of segments that lie within, those that hang together in one list."""
    runs: list[list[Segment]] = []
    hangs_on = False  # whether the last piece reached the end of its segment
    for segment in path.segments():
        reached = False
        for low, high in _shares_within(segment, window):
            piece = _piece(segment, low, high, window)
            if hangs_on and low == 0:
                runs[-1].append(piece)
            else:
                runs.append([piece])
            reached = high == 1
        hangs_on = reached
    return runs


def _open_path(run: list[Segment]) -> Path:
    vertices = [Vertex(*segment.start, segment.bulge) for segment in run]
    return Path((*vertices, Vertex(*run[-1].end)), closed=False)


def _shares_within(segment: Segment, window: Bounds) -> Iterator[tuple[float, float]]:
    """Yield from which share to which (0 to 1) *segment* lies within, neighbours joined."""
    crossings = _arc_crossings if segment.bulge else _line_crossings
    inner = (share for share in crossings(segment, window) if _SHORT < share < 1 - _SHORT)
    shares = [0.0, *sorted(inner), 1.0]
    start: float | None = None
    for low, high in pairwise(shares):
        if high - low <= _SHORT:
            continue
        if _holds(window, _at(segment, (low + high) / 2)):
            start = low if start is None else start
        elif start is not None:
            yield start, low
            start = None
    if start is not None:
        yield start, 1.0


def _line_crossings(segment: Segment, window: Bounds) -> Iterator[float]:
    """Yield where the line meets the lines of the window's sides."""
    (x0, y0), (x1, y1), _ = segment
    sides = ((x0, x1, (window.left, window.right)), (y0, y1, (window.bottom, window.top)))
    for start, end, edges in sides:
        if start != end:
            yield from (float((edge - start) / (end - start)) for edge in edges)


def _arc_crossings(segment: Segment, window: Bounds) -> Iterator[float]:
    """Yield where the arc meets the lines of the window's sides."""
    arc = arc_of(segment)
    for edge in (window.left, window.right):
        reach = float(edge - arc.centre.x) / arc.radius
        if abs(reach) <= 1:
            yield from (_share(arc.start_angle, arc.sweep, s * math.acos(reach)) for s in (1, -1))
    for edge in (window.bottom, window.top):
        reach = float(edge - arc.centre.y) / arc.radius
        if abs(reach) <= 1:
            angle = math.asin(reach)
            yield from (_share(arc.start_angle, arc.sweep, a) for a in (angle, math.pi - angle))


def _share(start: float, sweep: float, angle: float) -> float:
    """Return at which share of an arc *angle* is reached; above 1 where it is not."""
    turn = angle - start if sweep > 0 else start - angle
    return (turn % math.tau) / abs(sweep)


def _at(segment: Segment, share: float) -> Point:
    if segment.bulge:
        return Point(*arc_point(arc_of(segment), share))
    (x0, y0), (x1, y1), _ = segment
    return Point(float(x0) + share * float(x1 - x0), float(y0) + share * float(y1 - y0))


def _piece(segment: Segment, low: float, high: float, window: Bounds) -> Segment:
    """Return the piece of *segment* between two shares, its ends on the border where cut."""
    start = segment.start if low == 0 else _on_border(_at(segment, low), window)
    end = segment.end if high == 1 else _on_border(_at(segment, high), window)
    if not segment.bulge or (low == 0 and high == 1):
        return Segment(start, end, segment.bulge)
    return Segment(start, end, math.tan(arc_of(segment).sweep * (high - low) / 4))


def _on_border(point: Point, window: Bounds) -> Point:
    return Point(
        _snapped(point.x, window.left, window.right), _snapped(point.y, window.bottom, window.top)
    )


def _snapped(side: Number, *edges: Number) -> Number:
    return next((edge for edge in edges if abs(float(side - edge)) <= _SLACK), side)
