"""Lines that lie on one another."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations

from ..paths import Arc, Path, arc_of, arc_point
from .flat_shapes import SAME, Piece, Place, near_pairs
from .parallels import side_by_side

NEAR = 0.01  #: mm; lines no farther off are in one place
LEAST = 0.1  #: mm; lines that share less only meet
SINE = 0.01  #: of about half a degree; lines at more of an angle meet or part
FULL = 2 * math.pi


@dataclass(frozen=True)
class Doubled:
    """Where a line lies on another: for how many mm, and the middle of it."""

    run: float
    middle: Place


def doubled(paths: Iterable[Path]) -> list[Doubled]:
    """Return where *paths* lie on one another or on themselves: straight on straight, arc on arc."""
    segments = [segment for path in paths for segment in path.segments()]
    straight = [
        Piece((float(s.start.x), float(s.start.y)), (float(s.end.x), float(s.end.y)), 0)
        for s in segments
        if not s.bulge and math.dist(s.start, s.end) > SAME
    ]
    arcs = [arc_of(segment) for segment in segments if segment.bulge]
    return [found for found in (*_straight(straight), *_arcs(arcs)) if found.run >= LEAST]


def _straight(pieces: Sequence[Piece]) -> Iterator[Doubled]:
    for i, j in near_pairs(pieces, pieces, NEAR):
        if i < j and _sine(pieces[i], pieces[j]) < SINE:
            found = side_by_side(pieces[i], pieces[j])
            if found is not None and found.apart <= NEAR:
                yield Doubled(found.run, found.middle)


def _sine(a: Piece, b: Piece) -> float:
    """Return the sine of the angle between two straight pieces."""
    ax, ay = a.end[0] - a.start[0], a.end[1] - a.start[1]
    bx, by = b.end[0] - b.start[0], b.end[1] - b.start[1]
    return abs(ax * by - ay * bx) / (a.length * b.length)


def _arcs(arcs: Sequence[Arc]) -> Iterator[Doubled]:
    for first, second in combinations(arcs, 2):
        apart = math.dist(first.centre, second.centre)
        if apart < NEAR and abs(first.radius - second.radius) < NEAR:
            yield from _shared(first, second)


def _shared(first: Arc, second: Arc) -> Iterator[Doubled]:
    """Yield what two arcs of one circle have in common: once, or at both ends."""
    low, high = _range(first)
    for turn in (-FULL, 0.0, FULL):
        start, end = (angle + turn for angle in _range(second))
        shared = min(high, end) - max(low, start)
        if shared > 0:
            share = (max(low, start) + shared / 2 - low) / (high - low)
            along = share if first.sweep > 0 else 1 - share
            yield Doubled(shared * first.radius, arc_point(first, along))


def _range(arc: Arc) -> tuple[float, float]:
    """Return the angles between which an arc runs, counter-clockwise, the first within one turn."""
    low = min(arc.start_angle, arc.start_angle + arc.sweep) % FULL
    return low, low + abs(arc.sweep)
