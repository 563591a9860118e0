"""Where panels touch: common borders, free edges, and the outline made of them.

Two panels share a border where an edge of one runs along an edge of the other
in the opposite direction. Common pieces cancel; what remains, chained, is the
outline. No polygon operation is needed, so true arcs and exact corners survive.
"""

from __future__ import annotations

import math
from bisect import bisect_right
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from operator import itemgetter
from typing import NamedTuple

from ..documents import Refusal
from ..paths import Number, Path, Point, Segment, Vertex, signed_area


class Run(NamedTuple):
    """A piece of an upright or level line from *low* to *high*, part of a panel's edge."""

    low: Number
    high: Number
    panel: str


class Contact(NamedTuple):
    """A common piece of border: *first* stands above, or left of, *second*.

    *relation* is ``/`` on a level line, ``|`` on an upright one, ``-`` elsewhere.
    """

    first: str
    relation: str
    second: str
    piece: Segment


_Key = tuple[float, float]
"""A place, the same for points that differ by the noise of floats."""


class _Way(NamedTuple):
    """A piece with the keys of its ends, on its way into a ring."""

    begin: _Key
    end: _Key
    piece: Segment


@dataclass(frozen=True)
class Borders:
    """All contacts of a set of panels and the free pieces of their edges."""

    contacts: tuple[Contact, ...]
    free: tuple[Segment, ...]


def borders_of(outlines: Mapping[str, Sequence[Path]]) -> Borders:
    """Return where the panels touch; each panel gives its outline and then its holes.

    Outlines run counter-clockwise and holes clockwise, so that the panel always
    lies at the left.
    """
    runs: dict[tuple[str, Number], tuple[list[Run], list[Run]]] = defaultdict(lambda: ([], []))
    others: list[tuple[str, Segment]] = []
    for panel, paths in outlines.items():
        for path in paths:
            for segment in path.segments():
                _sort_in(panel, segment, runs, others)
    contacts, free = _match_others(others)
    for (axis, at), (forward, backward) in runs.items():
        _match_runs(axis, at, forward, backward, contacts, free)
    return Borders(tuple(contacts), tuple(free))


def _sort_in(
    panel: str,
    segment: Segment,
    runs: dict[tuple[str, Number], tuple[list[Run], list[Run]]],
    others: list[tuple[str, Segment]],
) -> None:
    start, end, bulge = segment
    if start == end:
        return
    if not bulge and start.x == end.x:
        _add_run(runs["x", start.x], panel, start.y, end.y)
    elif not bulge and start.y == end.y:
        _add_run(runs["y", start.y], panel, start.x, end.x)
    else:
        others.append((panel, segment))


def _add_run(pair: tuple[list[Run], list[Run]], panel: str, begin: Number, end: Number) -> None:
    if begin < end:
        pair[0].append(Run(begin, end, panel))
    else:
        pair[1].append(Run(end, begin, panel))


def _match_runs(
    axis: str,
    at: Number,
    forward: list[Run],
    backward: list[Run],
    contacts: list[Contact],
    free: list[Segment],
) -> None:
    """Sort the runs of one line into contacts and free pieces.

    On an upright line the panel of an upward run lies left of it; on a level
    line the panel of a rightward run lies above it.
    """
    common = _common(sorted(forward), sorted(backward)) if forward and backward else []
    for low, high, ahead, behind in common:
        relation = "|" if axis == "x" else "/"
        contacts.append(Contact(ahead, relation, behind, _segment(axis, at, low, high)))
    taken = [(low, high) for low, high, _, _ in common]
    for run in forward:
        free.extend(_segment(axis, at, low, high) for low, high in _gaps(run, taken))
    for run in backward:
        free.extend(_segment(axis, at, high, low) for low, high in _gaps(run, taken))


def _common(forward: list[Run], backward: list[Run]) -> list[tuple[Number, Number, str, str]]:
    """Return the overlaps of two sorted rows of runs as (low, high, ahead, behind)."""
    overlaps: list[tuple[Number, Number, str, str]] = []
    i = j = 0
    while i < len(forward) and j < len(backward):
        low = max(forward[i].low, backward[j].low)
        high = min(forward[i].high, backward[j].high)
        if low < high:
            overlaps.append((low, high, forward[i].panel, backward[j].panel))
        if forward[i].high <= backward[j].high:
            i += 1
        else:
            j += 1
    return overlaps


def _gaps(run: Run, taken: list[tuple[Number, Number]]) -> Iterator[tuple[Number, Number]]:
    """Yield what is left of *run* between the intervals *taken*, which lie in order, apart."""
    low = run.low
    for index in range(bisect_right(taken, low, key=itemgetter(1)), len(taken)):
        begin, end = taken[index]
        if begin >= run.high:
            break
        if begin > low:
            yield low, begin
        low = max(low, end)
    if low < run.high:
        yield low, run.high


def _segment(axis: str, at: Number, begin: Number, end: Number) -> Segment:
    if axis == "x":
        return Segment(Point(at, begin), Point(at, end), Fraction(0))
    return Segment(Point(begin, at), Point(end, at), Fraction(0))


def _match_others(others: list[tuple[str, Segment]]) -> tuple[list[Contact], list[Segment]]:
    """Match oblique and curved pieces that have the same ends in opposite directions."""
    waiting: dict[tuple[object, ...], list[tuple[str, Segment]]] = defaultdict(list)
    contacts: list[Contact] = []
    for panel, segment in others:
        partners = waiting[_shape_key(segment.end, segment.start, -segment.bulge)]
        if partners:
            other, _ = partners.pop()
            contacts.append(Contact(other, "-", panel, segment))
        else:
            waiting[_shape_key(*segment)].append((panel, segment))
    free = [segment for entries in waiting.values() for _, segment in entries]
    return contacts, free


def _shape_key(start: Point, end: Point, bulge: Number) -> tuple[object, ...]:
    return (*key_of(start), *key_of(end), round(float(bulge), 7))


def key_of(point: Point) -> _Key:
    """Return a key that is the same for points closer than about a ten-millionth of a mm."""
    return (round(float(point.x), 7) + 0.0, round(float(point.y), 7) + 0.0)


def rings_of(pieces: Iterable[Segment]) -> tuple[Path, ...]:
    """Return the closed rings that free *pieces* make, exteriors first, in a fixed order.

    Where more than two pieces meet, the ring turns so that panels which only
    touch at a point stay apart. Straight pieces that continue one another are one.
    """
    return tuple(sorted(map(_simplified, chains_of(pieces)), key=_ring_order))


def chains_of(pieces: Iterable[Segment]) -> list[list[Segment]]:
    """Return *pieces* chained to closed rings, each with what it encloses at its left.

    Raises Refusal where they do not close.
    """
    leaving: dict[_Key, list[_Way]] = defaultdict(list)
    ways = [_Way(key_of(piece.start), key_of(piece.end), piece) for piece in pieces]
    for way in sorted(ways, key=itemgetter(0, 1)):
        leaving[way.begin].append(way)
    rings = []
    for key in list(leaving):
        while leaving[key]:
            rings.append(_ring_from(leaving[key][0], leaving))
    return rings


def _ring_from(first: _Way, leaving: dict[_Key, list[_Way]]) -> list[Segment]:
    ring, way = [first.piece], first
    leaving[first.begin].remove(first)
    while way.end != first.begin:
        choices = leaving[way.end]
        if not choices:
            raise Refusal("open-outline", "the edges of the panels do not close to an outline")
        following = choices[0]
        if len(choices) > 1:
            following = min(choices, key=lambda other: _clockwise_turn(ring[-1], other.piece))
        choices.remove(following)
        ring.append(following.piece)
        way = following
    return ring


def _clockwise_turn(arriving: Segment, leaving: Segment) -> float:
    """Return the angle, clockwise, from the way back to the way on (0 < angle <= 2 pi)."""
    back = _direction(Segment(arriving.end, arriving.start, -arriving.bulge))
    turn = (back - _direction(leaving)) % (2 * math.pi)
    return turn if turn > 1e-9 else 2 * math.pi


def _direction(segment: Segment) -> float:
    """Return the direction in which a segment sets out, radians."""
    start, end, bulge = segment
    chord = math.atan2(end.y - start.y, end.x - start.x)
    return chord - 2 * math.atan(bulge)


def _simplified(ring: list[Segment]) -> Path:
    """Return the ring as a path whose straight pieces in one line are one."""
    kept = [s for i, s in enumerate(ring) if not _continues(ring[i - 1], s)]
    return Path(tuple(Vertex(s.start.x, s.start.y, s.bulge) for s in kept))


def _continues(before: Segment, after: Segment) -> bool:
    if before.bulge or after.bulge:
        return False
    ax, ay = before.end.x - before.start.x, before.end.y - before.start.y
    bx, by = after.end.x - after.start.x, after.end.y - after.start.y
    cross = ax * by - ay * bx
    if isinstance(cross, Fraction):
        return cross == 0
    return abs(cross) < 1e-9 * (math.hypot(ax, ay) * math.hypot(bx, by))


def _ring_order(ring: Path) -> tuple[int, float, tuple[tuple[float, float], ...]]:
    area = area_in_floats(ring)
    return (0 if area > 0 else 1, -abs(area), tuple(key_of(p) for p in ring.points))


def area_in_floats(ring: Path) -> float:
    """Return the signed area of a ring, mm2: to compare and sort, where fractions would be slow."""
    vertices = [Vertex(float(v.x), float(v.y), v.bulge) for v in ring.vertices]
    return float(signed_area(Path(tuple(vertices))))


def merged_pieces(pieces: Iterable[Segment]) -> list[Segment]:
    """Return *pieces* with those joined that continue one another in a straight line."""
    merged: list[Segment] = []
    for piece in sorted(pieces, key=lambda s: (key_of(s.start), key_of(s.end))):
        last = merged[-1] if merged else None
        if last and last.end == piece.start and _continues(last, piece):
            merged[-1] = Segment(last.start, piece.end, last.bulge)
        else:
            merged.append(piece)
    return merged


def piece_path(piece: Segment) -> Path:
    """Return one piece as an open path."""
    return Path((Vertex(*piece.start, piece.bulge), Vertex(*piece.end)), closed=False)
