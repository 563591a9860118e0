"""Straight edges that lie on one line, sorted along it: where two of them would be cut twice."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from ..paths import Path, Point, line

#: mm; edges that lie closer are one: finer than any tool cuts, and parts whose sizes share
#: no unit are placed to the next hundredth.
NEAR = 0.02
_TURN = 1e-7  # radians to which directions are told apart
#: Where one rounds to the next, off the simple fractions on which real coordinates lie.
_BETWEEN = 0.381966


@dataclass(frozen=True, slots=True)
class Edge:
    """A straight edge along its line, from *low* to *high* mm, and whose it is."""

    owner: int
    start: Point
    end: Point
    low: float
    high: float


def rounded(value: float, step: float) -> int:
    """Return *value* in whole steps, so that what differs by noise alone is the same."""
    return math.floor(value / step + _BETWEEN)


def rows(edges: Iterable[tuple[int, Point, Point]]) -> list[list[Edge]]:
    """Return edges, each an owner and two ends, by the lines on which they lie, sorted along them."""
    directions: dict[tuple[int, int], list[tuple[float, int, Edge]]] = {}
    for number, (owner, a, b) in enumerate(edges):
        ux, uy = _direction(a, b)
        low, high = sorted(float(p.x) * ux + float(p.y) * uy for p in (a, b))
        start, end = sorted((a, b), key=lambda p: float(p.x) * ux + float(p.y) * uy)
        aside = float(a.x) * uy - float(a.y) * ux
        key = rounded(ux, _TURN), rounded(uy, _TURN)
        edge = Edge(owner, start, end, low, high)
        directions.setdefault(key, []).append((aside, number, edge))
    return [row for found in directions.values() for row in _rows_of_one_direction(found)]


def _direction(a: Point, b: Point) -> tuple[float, float]:
    """Return the unit vector along an edge, the same for both ways: to the right, or straight up."""
    dx, dy = float(b.x - a.x), float(b.y - a.y)
    length = math.hypot(dx, dy)
    ux, uy = dx / length, dy / length
    if abs(ux) < _TURN:
        return 0.0, 1.0
    return (ux, uy) if ux > 0 else (-ux, -uy)


def _rows_of_one_direction(found: list[tuple[float, int, Edge]]) -> Iterator[list[Edge]]:
    row: list[Edge] = []
    last = -math.inf
    for aside, _, edge in sorted(found, key=lambda entry: entry[:2]):
        if row and aside - last > NEAR:
            yield _sorted(row)
            row = []
        row.append(edge)
        last = aside
    yield _sorted(row)


def _sorted(row: Iterable[Edge]) -> list[Edge]:
    return sorted(row, key=lambda edge: (edge.low, edge.high, edge.owner))


def doubled(row: Sequence[Edge]) -> Iterator[tuple[int, int]]:
    """Yield owners of edges that lie on one another, in pairs that join all of them."""
    farthest = row[0]
    for edge in row[1:]:
        if min(farthest.high, edge.high) - edge.low > NEAR:
            yield farthest.owner, edge.owner
        if edge.high > farthest.high:
            farthest = edge


def joined(pairs: Iterable[tuple[int, int]]) -> list[tuple[int, ...]]:
    """Return the sets of numbers that hang together by *pairs*, each sorted, by their last ones.

    >>> joined([(5, 2), (7, 7), (9, 5)])
    [(7,), (2, 5, 9)]
    """
    set_of: dict[int, set[int]] = {}
    for a, b in pairs:
        both = set_of.get(a, {a}) | set_of.get(b, {b})
        set_of.update(dict.fromkeys(both, both))
    found = {max(members): tuple(sorted(members)) for members in set_of.values()}
    return [found[last] for last in sorted(found)]


def merged(row: Sequence[Edge]) -> Iterator[tuple[Path, list[int]]]:
    """Yield the lines that cover the edges of a row, also those that only touch, with their owners."""
    run, farthest = [row[0]], row[0]
    for edge in row[1:]:
        if edge.low > farthest.high + NEAR:
            yield _line(run, farthest)
            run, farthest = [], edge
        run.append(edge)
        if edge.high > farthest.high:
            farthest = edge
    yield _line(run, farthest)


def _line(run: Sequence[Edge], farthest: Edge) -> tuple[Path, list[int]]:
    return line(run[0].start, farthest.end), sorted({edge.owner for edge in run})
