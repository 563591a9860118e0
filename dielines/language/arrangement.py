"""An outline cut into panels by lines and arcs, all of which keep their true shape."""

from __future__ import annotations

import itertools
import math
from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Sequence
from fractions import Fraction
from typing import NamedTuple

from ..meetings import circles_meet, line_meets_circle
from ..paths import (
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
_CONTACT = 1e-4  #: mm


class Face(NamedTuple):
    """An area between lines: its outline, counter-clockwise, and holes, clockwise."""

    outline: Path
    holes: tuple[Path, ...] = ()

    def holds(self, point: tuple[Number, Number]) -> bool:
        """Return whether *point* lies in the area."""
        in_hole = any(encloses(hole, point) for hole in self.holes)
        return encloses(self.outline, point) and not in_hole


def faces_of(
    outline: Path, lines: Iterable[Path], on_meeting: Callable[[], None]
) -> tuple[Face, ...]:
    """Return the faces into which *lines* cut the inside of *outline*, counter-clockwise.

    Lines may run past the outline; what lies outside is dropped. *on_meeting* is
    called wherever two of them meet, so that somebody can count and stop.
    """
    rim = list((outline if signed_area(outline) > 0 else reversed_path(outline)).segments())
    inner = [segment for path in lines for segment in path.segments()]
    marks = _crossings([*rim, *inner], on_meeting)
    pieces = [piece for i, s in enumerate(rim) for piece in _cut(s, marks[i])]
    cuts = [p for i, s in enumerate(inner, len(rim)) for p in _cut(s, marks[i])]
    inside = [piece for piece in cuts if encloses(outline, _middle(piece))]
    within = _without_loose_ends(_without_doubles(inside, pieces), pieces)
    both = [*within, *(Segment(s.end, s.start, -s.bulge) for s in within)]
    rings = [_path_of(chain) for chain in chains_of([*pieces, *both])]
    outlines = [ring for ring in rings if signed_area(ring) > 0]
    return _with_holes(outlines, [ring for ring in rings if signed_area(ring) < 0])


def _with_holes(outlines: Sequence[Path], holes: Sequence[Path]) -> tuple[Face, ...]:
    """Return the faces, each hole given to the smallest outline around it."""
    ordered = sorted(outlines, key=lambda path: float(signed_area(path)))
    around: dict[int, list[Path]] = defaultdict(list)
    for hole in holes:
        inside = [i for i, path in enumerate(ordered) if _lies_in(hole, path)]
        if inside:
            around[inside[0]].append(hole)
    found = {path: tuple(around[i]) for i, path in enumerate(ordered)}
    return tuple(Face(path, found[path]) for path in outlines)


def _lies_in(hole: Path, outline: Path) -> bool:
    """Return whether *hole*, which does not cross *outline*, lies inside and not along it."""
    middles = [_middle(segment) for segment in hole.segments()]
    return signed_area(outline) > -signed_area(hole) and all(encloses(outline, m) for m in middles)


def _path_of(chain: Sequence[Segment]) -> Path:
    """Return the ring with every meeting point kept, so that neighbours share whole pieces."""
    return Path(tuple(Vertex(s.start.x, s.start.y, s.bulge) for s in chain))


def crossing_of_itself(outline: Path) -> Point | None:
    """Return a place where *outline* crosses itself, or None."""
    segments = [in_floats(s) for s in outline.segments() if key_of(s.start) != key_of(s.end)]
    last = len(segments) - 1
    for i, j, point in _meetings(segments):
        joints = [segments[j].start] if j - i == 1 else []
        joints += [segments[i].start] if (i, j) == (0, last) else []
        if all(_apart(point, joint) for joint in joints):
            return point
    return None


def in_floats(segment: Segment) -> Segment:
    """Return the segment in floats: near enough to look for meetings, and much faster."""
    (x0, y0), (x1, y1), bulge = segment
    return Segment(Point(float(x0), float(y0)), Point(float(x1), float(y1)), bulge)


def _apart(a: Point, b: Point) -> bool:
    """Return whether two places differ by more than the noise of a tangent's point of contact."""
    return math.hypot(a.x - b.x, a.y - b.y) > _CONTACT


def _crossings(
    segments: Sequence[Segment], on_meeting: Callable[[], None]
) -> dict[int, list[Point]]:
    marks: dict[int, list[Point]] = defaultdict(list)
    for i, j, point in _meetings(segments):
        on_meeting()
        marks[i].append(point)
        marks[j].append(point)
    return marks


def _meetings(segments: Sequence[Segment]) -> Iterator[tuple[int, int, Point]]:
    """Yield the places where two of the segments meet, with the numbers of both."""
    boxes = [box_of(segment) for segment in segments]
    for i, j in itertools.combinations(range(len(segments)), 2):
        if boxes_meet(boxes[i], boxes[j]):
            for point in meeting_points(segments[i], segments[j]):
                yield i, j, point


Box = tuple[float, float, float, float]
"""Left, bottom, right and top of a rectangle around something, a little larger than need be."""


def box_of(segment: Segment) -> Box:
    """Return the rectangle around a segment; around an arc with room to spare."""
    (x0, y0), (x1, y1) = segment.start, segment.end
    left, right = sorted((float(x0), float(x1)))
    bottom, top = sorted((float(y0), float(y1)))
    if not segment.bulge:
        return left - _NEAR, bottom - _NEAR, right + _NEAR, top + _NEAR
    # the sagitta, half the chord times the bulge, is the farthest that an arc gets from its chord:
    # beyond a half circle it is more than the radius by which the arc passes the chord's ends
    bulge = abs(float(segment.bulge))
    chord = math.hypot(right - left, top - bottom)
    reach = chord / 2 * bulge
    return left - reach - _NEAR, bottom - reach - _NEAR, right + reach + _NEAR, top + reach + _NEAR


def boxes_meet(a: Box, b: Box) -> bool:
    """Return whether two rectangles have a place in common."""
    return a[0] <= b[2] and b[0] <= a[2] and a[1] <= b[3] and b[1] <= a[3]


def meeting_points(first: Segment, second: Segment) -> list[Point]:
    """Return where two segments meet, their ends included."""
    if not first.bulge and not second.bulge:
        return _line_line(first, second)
    if first.bulge and second.bulge:
        places = circles_meet(arc_of(first), arc_of(second))
        return [p for p in places if _on(p, first) and _on(p, second)]
    line, arc = (second, first) if first.bulge else (first, second)
    places = line_meets_circle(line.start, _direction(line), arc_of(arc))
    return [p for p in places if _on(p, arc) and _on(p, line)]


def _line_line(a: Segment, b: Segment) -> list[Point]:
    ux, uy = a.end.x - a.start.x, a.end.y - a.start.y
    vx, vy = b.end.x - b.start.x, b.end.y - b.start.y
    cross = ux * vy - uy * vx
    wx, wy = b.start.x - a.start.x, b.start.y - a.start.y
    if math.fabs(cross) <= 1e-12 * math.hypot(ux, uy) * math.hypot(vx, vy):
        is_one_line = math.fabs(ux * wy - uy * wx) < _NEAR * math.hypot(ux, uy)
        return _common_ends(a, b) if is_one_line else []
    s, t = (wx * vy - wy * vx) / cross, (wx * uy - wy * ux) / cross
    if -_NEAR <= s <= 1 + _NEAR and -_NEAR <= t <= 1 + _NEAR:
        return [Point(a.start.x + s * ux, a.start.y + s * uy)]
    return []


def _common_ends(a: Segment, b: Segment) -> list[Point]:
    """Return the ends of either segment that lie on the other one, both being on one line."""
    ends = [(a.start, b), (a.end, b), (b.start, a), (b.end, a)]
    return [point for point, other in ends if _on(point, other)]


def _direction(line: Segment) -> tuple[float, float]:
    """Return the unit vector along a straight segment."""
    ux, uy = float(line.end.x - line.start.x), float(line.end.y - line.start.y)
    length = math.hypot(ux, uy)
    return ux / length, uy / length


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


def _without_doubles(cuts: Sequence[Segment], rim: Sequence[Segment]) -> list[Segment]:
    """Return *cuts* without those that lie on the rim or on one another."""
    seen = {_course(piece) for piece in rim}
    kept = []
    for piece in cuts:
        if _course(piece) not in seen:
            seen.add(_course(piece))
            kept.append(piece)
    return kept


def _course(piece: Segment) -> tuple[object, ...]:
    """Return a key of the way that a piece takes, whichever way it runs."""
    start, end, bulge = key_of(piece.start), key_of(piece.end), float(piece.bulge)
    if start > end:
        start, end, bulge = end, start, -bulge
    return start, end, round(bulge, 7)


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
