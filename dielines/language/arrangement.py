"""An outline cut into panels by lines and arcs, all of which keep their true shape."""

from __future__ import annotations

import itertools
import math
from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from fractions import Fraction

from ..paths import (
    Arc,
    Number,
    Path,
    Point,
    Segment,
    Vertex,
    arc_of,
    arc_point,
    encloses,
    reversed_path,
    signed_area,
)
from .borders import chains_of, key_of

_NEAR = 1e-9


def faces_of(outline: Path, lines: Iterable[Path]) -> tuple[Path, ...]:
    """Return the faces into which *lines* cut the inside of *outline*, counter-clockwise.

    Lines may run past the outline; what lies outside is dropped.
    """
    rim = list((outline if signed_area(outline) > 0 else reversed_path(outline)).segments())
    inner = [segment for path in lines for segment in path.segments()]
    marks = _crossings([*rim, *inner])
    pieces = [piece for i, s in enumerate(rim) for piece in _cut(s, marks[i])]
    cuts = [p for i, s in enumerate(inner, len(rim)) for p in _cut(s, marks[i])]
    within = _without_loose_ends(
        [piece for piece in cuts if encloses(outline, _middle(piece))], pieces
    )
    both = [*within, *(Segment(s.end, s.start, -s.bulge) for s in within)]
    rings = [_path_of(chain) for chain in chains_of([*pieces, *both])]
    return tuple(ring for ring in rings if signed_area(ring) > 0)


def _path_of(chain: Sequence[Segment]) -> Path:
    """Return the ring with every meeting point kept, so that neighbours share whole pieces."""
    return Path(tuple(Vertex(s.start.x, s.start.y, s.bulge) for s in chain))


def crossing_of_itself(outline: Path) -> Point | None:
    """Return a place where *outline* crosses itself, or None."""
    segments = list(outline.segments())
    for i, first in enumerate(segments):
        for j in range(i + 1, len(segments)):
            ends = {key_of(p) for p in (first.start, first.end)} & {
                key_of(p) for p in (segments[j].start, segments[j].end)
            }
            for point in meeting_points(first, segments[j]):
                if key_of(point) not in ends:
                    return point
    return None


def _crossings(segments: Sequence[Segment]) -> dict[int, list[Point]]:
    marks: dict[int, list[Point]] = defaultdict(list)
    for i, first in enumerate(segments):
        for j in range(i + 1, len(segments)):
            for point in meeting_points(first, segments[j]):
                marks[i].append(point)
                marks[j].append(point)
    return marks


def meeting_points(first: Segment, second: Segment) -> list[Point]:
    """Return where two segments meet, their ends included."""
    if not first.bulge and not second.bulge:
        return _line_line(first, second)
    if first.bulge and second.bulge:
        return [p for p in _circle_circle(first, second) if _on(p, first) and _on(p, second)]
    line, arc = (second, first) if first.bulge else (first, second)
    return [p for p in _line_circle(line, arc_of(arc)) if _on(p, arc) and _on(p, line)]


def _line_line(a: Segment, b: Segment) -> list[Point]:
    ux, uy = a.end.x - a.start.x, a.end.y - a.start.y
    vx, vy = b.end.x - b.start.x, b.end.y - b.start.y
    cross = ux * vy - uy * vx
    if math.fabs(cross) < 1e-12:
        return []
    wx, wy = b.start.x - a.start.x, b.start.y - a.start.y
    s, t = (wx * vy - wy * vx) / cross, (wx * uy - wy * ux) / cross
    if -_NEAR <= s <= 1 + _NEAR and -_NEAR <= t <= 1 + _NEAR:
        return [Point(a.start.x + s * ux, a.start.y + s * uy)]
    return []


def _line_circle(line: Segment, arc: Arc) -> list[Point]:
    """Return where the endless line meets the full circle."""
    ux, uy = float(line.end.x - line.start.x), float(line.end.y - line.start.y)
    length = math.hypot(ux, uy)
    ux, uy = ux / length, uy / length
    wx, wy = arc.centre.x - line.start.x, arc.centre.y - line.start.y
    along, off = wx * ux + wy * uy, wx * uy - wy * ux
    if abs(off) > arc.radius + _NEAR:
        return []
    half = math.sqrt(max(arc.radius**2 - off**2, 0.0))
    shares = (along - half, along + half) if half > _NEAR else (along,)
    return [Point(line.start.x + s * ux, line.start.y + s * uy) for s in shares]


def _circle_circle(first: Segment, second: Segment) -> list[Point]:
    a, b = arc_of(first), arc_of(second)
    dx, dy = b.centre.x - a.centre.x, b.centre.y - a.centre.y
    distance = math.hypot(dx, dy)
    if distance < _NEAR or not math.fabs(a.radius - b.radius) <= distance <= a.radius + b.radius:
        return []
    along = (a.radius**2 - b.radius**2 + distance**2) / (2 * distance)
    half = math.sqrt(max(a.radius**2 - along**2, 0.0))
    x, y = a.centre.x + dx / distance * along, a.centre.y + dy / distance * along
    offsets = (half, -half) if half > _NEAR else (0.0,)
    return [Point(x - dy / distance * h, y + dx / distance * h) for h in offsets]


def _on(point: Point, segment: Segment) -> bool:
    """Return whether *point*, known to lie on the endless line or circle, lies on the segment."""
    return -_NEAR <= share_at(point, segment) <= 1 + _NEAR


def share_at(point: Point, segment: Segment) -> Number:
    """Return how far along *segment* (0 to 1) a point on it stands."""
    start, end, bulge = segment
    if not bulge:
        ux, uy = end.x - start.x, end.y - start.y
        return ((point.x - start.x) * ux + (point.y - start.y) * uy) / (ux * ux + uy * uy)
    arc = arc_of(segment)
    angle = math.atan2(point.y - arc.centre.y, point.x - arc.centre.x)
    turn = (angle - arc.start_angle) % (2 * math.pi)
    if arc.sweep < 0:
        turn -= 2 * math.pi if turn > _NEAR else 0
    share = turn / arc.sweep
    full = 2 * math.pi / abs(arc.sweep)
    return share - full if share > full - _NEAR else share


def _cut(segment: Segment, points: Sequence[Point]) -> Iterator[Segment]:
    """Yield the pieces of *segment* between the *points* on it."""
    ordered = sorted(((share_at(p, segment), p) for p in points), key=lambda pair: float(pair[0]))
    stops = [(Fraction(0), segment.start)]
    for share, point in ordered:
        if key_of(point) not in (key_of(stops[-1][1]), key_of(segment.end)):
            stops.append((share, point))  # type: ignore[arg-type]
    stops.append((Fraction(1), segment.end))
    sweep = math.atan(segment.bulge) if segment.bulge else 0.0
    for (begin, start), (end, stop) in itertools.pairwise(stops):
        bulge = math.tan(sweep * (end - begin)) if segment.bulge else Fraction(0)
        whole = len(stops) == 2
        yield segment if whole else Segment(start, stop, bulge)


def _middle(segment: Segment) -> Point:
    if segment.bulge:
        return Point(*arc_point(arc_of(segment), 0.5))
    return Point((segment.start.x + segment.end.x) / 2, (segment.start.y + segment.end.y) / 2)


def _without_loose_ends(cuts: list[Segment], rim: Sequence[Segment]) -> list[Segment]:
    """Return *cuts* without those that end inside a panel and so part nothing."""
    held = {key_of(piece.start) for piece in rim}
    while True:
        degree: dict[tuple[float, float], int] = defaultdict(int)
        for piece in cuts:
            degree[key_of(piece.start)] += 1
            degree[key_of(piece.end)] += 1
        kept = [
            piece
            for piece in cuts
            if all(degree[key_of(p)] > 1 or key_of(p) in held for p in (piece.start, piece.end))
        ]
        if len(kept) == len(cuts):
            return kept
        cuts = kept
