"""How far two paths lie apart, mm."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise

from ..paths import Path, Segment, Vertex, arc_of, flattened, nearest_between

Place = tuple[float, float]

SAME = 1e-3  #: mm; closer than this no other order of the vertices is tried
REACH = 2.0  #: mm; vertices farther apart do not go together
_SAGITTA = 1e-3  # mm; chords that only find the nearest segment; the distance is then exact
_MOST_STARTS = 4
_FEW = 300  # places times segments; so few are measured faster than a tree is planted


def trace_of(path: Path) -> list[Place]:
    """Return vertices and middles of segments in turn: v0 m0 v1 m1 ...; arcs at their apex.

    The apex of an arc lies half the bulge times the chord to the right of the
    chord's middle, seen along it (bulge = sagitta / half chord).
    """
    places = [(float(vertex.x), float(vertex.y)) for vertex in path.vertices]
    ends = places[1:] + (places[:1] if path.closed else [])
    trace: list[Place] = []
    for (x0, y0), (x1, y1), vertex in zip(places, ends, path.vertices, strict=False):
        half = float(vertex.bulge) / 2
        trace += ((x0, y0), ((x0 + x1) / 2 + half * (y1 - y0), (y0 + y1) / 2 - half * (x1 - x0)))
    return trace if path.closed else trace + places[-1:]


def deviation_in_step(a: Path, b: Path) -> float:
    """Return the largest distance between vertices and arc middles, one by one, mm.

    Infinite where the numbers of vertices differ, or one is open and the other closed.
    """
    trace_a, trace_b = trace_of(a), trace_of(b)
    return _in_step(trace_a, trace_b) if len(trace_a) == len(trace_b) > 0 else math.inf


def deviation(a: Path, b: Path) -> float:
    """Return the largest distance between the vertices and arc middles of *a* and *b*, mm.

    A closed path may start anywhere, and any path may run either way. Where the
    numbers of vertices differ, or they do not go together, each path's vertices
    and middles are measured to the other's nearest line or arc. A path without
    vertices is infinitely far.

    >>> from dielines.paths import rectangle, reversed_path, translated
    >>> page = rectangle(0, 0, 123.825, 50)
    >>> deviation(page, reversed_path(page)), round(deviation(page, translated(page, 0.03, 0.04)), 9)
    (0.0, 0.05)
    """
    if not a.vertices or not b.vertices:
        return math.inf
    in_turn = _in_turn(trace_of(a), trace_of(b), a)
    return in_turn if in_turn <= REACH else _apart(a, b)


def _in_turn(a: Sequence[Place], b: Sequence[Place], path: Path) -> float:
    """Return the deviation of two traces one by one, at the best start and direction."""
    if len(a) != len(b):
        return math.inf
    straight = _in_step(a, b)
    if straight <= SAME:
        return straight
    return min(straight, *(_in_step(a, turned) for turned in _turns(a, b, path)))


def _in_step(a: Sequence[Place], b: Sequence[Place]) -> float:
    return max(map(math.dist, a, b))


def _turns(a: Sequence[Place], b: Sequence[Place], path: Path) -> Iterator[Sequence[Place]]:
    """Yield the trace *b* run the other way, and from each start that lies near that of *a*."""
    if not path.closed:
        yield b[::-1]
        return
    distances = [math.dist(a[0], place) for place in b[::2]]
    nearest = min(distances) + SAME
    starts = [2 * i for i, distance in enumerate(distances) if distance <= nearest]
    for start in starts[:_MOST_STARTS]:
        turned = [*b[start:], *b[:start]]
        yield turned
        yield [turned[0], *turned[:0:-1]]


def _apart(a: Path, b: Path) -> float:
    """Return the largest distance from the trace of each path to the other path."""
    return max(_farthest(trace_of(a), b), _farthest(trace_of(b), a))


def _farthest(places: Sequence[Place], path: Path) -> float:
    """Return the largest distance of *places* from *path*."""
    segments = list(path.segments()) or [Segment(path.points[0], path.points[0], 0.0)]
    if len(places) * len(segments) <= _FEW:
        return max(_nearest(place, segments) for place in places)
    return _farthest_of_many(places, segments)


def _nearest(place: Place, segments: Iterable[Segment]) -> float:
    return min(distance_to(place, segment) for segment in segments)


def _farthest_of_many(places: Sequence[Place], segments: Sequence[Segment]) -> float:
    """Return the same, with a tree that finds the nearest segment of each place."""
    from shapely import STRtree, linestrings, points

    chords: list[tuple[Place, Place]] = []
    owners: list[int] = []
    for i, segment in enumerate(segments):
        corners = _corners(segment)
        chords += pairwise(corners)
        owners += [i] * (len(corners) - 1)
    nearest = STRtree(linestrings(chords)).query_nearest(points(places), all_matches=False)
    return max(
        distance_to(places[place], segments[owners[chord]])
        for place, chord in zip(*nearest.tolist(), strict=True)
    )


def _corners(segment: Segment) -> list[Place]:
    start, end = segment.start, segment.end
    return flattened(Path((Vertex(*start, segment.bulge), Vertex(*end)), closed=False), _SAGITTA)


def distance_to(place: Place, segment: Segment) -> float:
    """Return the distance from *place* to a line or arc, mm."""
    return _to_arc(place, segment) if segment.bulge else _to_line(place, segment)


def _to_line(place: Place, segment: Segment) -> float:
    start, end = ((float(x), float(y)) for x, y in (segment.start, segment.end))
    return math.dist(nearest_between(start, end, place), place)


def _to_arc(place: Place, segment: Segment) -> float:
    arc = arc_of(segment)
    dx, dy = place[0] - float(arc.centre.x), place[1] - float(arc.centre.y)
    turn = math.atan2(dy, dx) - arc.start_angle
    turned = turn % math.tau if arc.sweep > 0 else -turn % math.tau
    if turned <= abs(arc.sweep):
        return abs(math.hypot(dx, dy) - arc.radius)
    ends = ((float(x), float(y)) for x, y in (segment.start, segment.end))
    return min(math.dist(place, end) for end in ends)
