"""Closed cuts begun away from their corners and run on a little past their start.

A blade that is dragged along leaves a thread uncut where it was set down and
turned, and a beam a mark; in a corner both show. So the cut begins in the middle
of an edge, and its end goes over its beginning once more. That is common practice
with no source; how long the overlap should be depends on the blade.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from ..dashes import stretch
from ..drawing import Drawing, Item
from ..paths import Path, length_of
from .contours import corners_of, is_closed_cut, started_along
from .entries import Place, Way, place_of, ways_of

MOST_STARTS = 8  #: that are weighed for one contour: those on its longest edges
ROUND_STARTS = 4  #: of a contour without corners


@dataclass(frozen=True, slots=True)
class _Run:
    """A way to cut a path, and where it sets down and lifts the tool."""

    path: Path
    into: Place
    out: Place


def with_overlap(drawing: Drawing, overlap: float) -> Drawing:
    """Return *drawing* with closed cuts begun away from corners and run on by *overlap*, mm.

    Such a cut becomes an open path that ends as far past its start. The order
    stays; of the edges to begin on, those are taken between which the tool
    travels least.
    """
    if not overlap:
        return drawing
    chosen = iter(_shortest([_runs(item, overlap) for item in drawing.items()]))
    groups = (
        replace(group, items=tuple(replace(item, path=next(chosen).path) for item in group.items))
        for group in drawing.groups
    )
    return replace(drawing, groups=tuple(groups))


def _runs(item: Item, overlap: float) -> tuple[_Run, ...]:
    """Return the ways to cut the path of *item*: as it is, or from each of its starts."""
    if not is_closed_cut(item):
        way = ways_of(item.path)[0] if item.path.vertices else Way((0, 0), (0, 0))
        return (_Run(item.path, way.into, way.out),)
    paths = (overlapping(item.path, along, overlap) for along in starts_of(item.path))
    return tuple(_Run(p, place_of(p.points[0]), place_of(p.points[-1])) for p in paths)


def overlapping(path: Path, along: float, overlap: float) -> Path:
    """Return the closed *path* as an open one from *along* all round and on by *overlap*, mm.

    >>> from dielines.paths import rectangle
    >>> overlapping(rectangle(0, 0, 4, 3), 2, 0.5).points[::6]
    (Point(x=2.0, y=0.0), Point(x=2.5, y=0.0))
    """
    turned = started_along(path, along)
    again = stretch(turned, 0.0, min(overlap, length_of(path) / 2))
    return Path((*turned.vertices, *again.vertices), closed=False)


def starts_of(path: Path) -> list[float]:
    """Return how far along a closed *path* it may begin, mm: in the middle of its longest edges."""
    total, corners = length_of(path), corners_of(path)
    if not corners:
        return [total * i / ROUND_STARTS for i in range(ROUND_STARTS)]
    ends = [*corners[1:], corners[0] + total]
    edges = sorted(zip(corners, ends, strict=True), key=lambda edge: (edge[0] - edge[1], edge[0]))
    return [(start + end) / 2 % total for start, end in edges[:MOST_STARTS]]


def _shortest(choices: Sequence[Sequence[_Run]]) -> list[_Run]:
    """Return one run of each, in this order, with the least travel from one to the next."""
    if not choices:
        return []
    reached: list[list[tuple[int, int]]] = [[(0, 0)] * len(choices[0])]
    for before, after in pairwise(choices):
        reached.append([_best(before, reached[-1], run) for run in after])
    return [runs[i] for runs, i in zip(choices, _traced(reached), strict=True)]


def _best(before: Sequence[_Run], reached: Sequence[tuple[int, int]], run: _Run) -> tuple[int, int]:
    """Return the least travel to the start of *run*, in micrometres, and after which run before."""
    ways = (
        (travelled + _between(other.out, run.into), i)
        for i, (other, (travelled, _)) in enumerate(zip(before, reached, strict=True))
    )
    return min(ways)


def _between(a: Place, b: Place) -> int:
    return math.isqrt((a[0] - b[0]) ** 2 + (a[1] - b[1]) ** 2)


def _traced(reached: Sequence[Sequence[tuple[int, int]]]) -> list[int]:
    """Return which run of each step the shortest way takes."""
    last = min(range(len(reached[-1])), key=lambda i: (reached[-1][i][0], i))
    return list(_backwards(reached, last))[::-1]


def _backwards(reached: Sequence[Sequence[tuple[int, int]]], last: int) -> Iterator[int]:
    for step in reversed(reached):
        yield last
        last = step[last][1]
