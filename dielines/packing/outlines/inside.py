"""The largest upright rectangle inside an outline."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from .rings import Ring

SLABS = 48  #: heights that are tried beside those of the corners, where sides slant
Span = tuple[float, float]


def largest_rectangle_inside(rings: Sequence[Ring]) -> tuple[float, float]:
    """Return width and height of the largest upright rectangle inside the outline.

    *rings*: the exterior and the holes, in any unit. Exact where all sides run level or
    upright; else a little smaller than the largest, never larger. (0, 0) where there is
    none.

    >>> largest_rectangle_inside([[(0, 0), (9, 0), (9, 4), (2, 4), (2, 9), (0, 9)]])
    (9, 4)
    """
    slabs = list(_slabs(rings))
    best: tuple[float, float] = (0, 0)
    for start, (low, _, spans) in enumerate(slabs):
        for _, high, others in slabs[start:]:
            spans = _shared(spans, others)
            wide = max((right - left for left, right in spans), default=0)
            if not wide:
                break
            if wide * (high - low) > best[0] * best[1]:
                best = wide, high - low
    return best


def _slabs(rings: Sequence[Ring]) -> Iterator[tuple[float, float, list[Span]]]:
    """Yield lower and upper edge of each slab, and what is inside all the way up."""
    sides = [
        (*start, *end) if start[1] < end[1] else (*end, *start)
        for ring in rings
        for start, end in zip(ring, [*ring[1:], ring[0]], strict=True)
        if start[1] != end[1]
    ]
    heights = {height for side in sides for height in (side[1], side[3])}
    if any(side[0] != side[2] for side in sides):
        low, high = min(heights), max(heights)
        heights |= {low + (high - low) * step / SLABS for step in range(1, SLABS)}
    rows = sorted(heights)
    for lower, upper in pairwise(rows):
        yield lower, upper, _inside(sides, lower, upper)


def _inside(
    sides: Sequence[tuple[float, float, float, float]], lower: float, upper: float
) -> list[Span]:
    crossing = [
        (_at(side, lower), _at(side, upper))
        for side in sides
        if side[1] <= lower and side[3] >= upper
    ]
    crossing.sort(key=lambda ends: (ends[0] + ends[1], ends))
    pairs = zip(crossing[::2], crossing[1::2], strict=False)
    return [(max(left), min(right)) for left, right in pairs if max(left) < min(right)]


def _at(side: tuple[float, float, float, float], height: float) -> float:
    x, y, to_x, to_y = side
    return x if x == to_x else x + (to_x - x) * (height - y) / (to_y - y)


def _shared(spans: Sequence[Span], others: Sequence[Span]) -> list[Span]:
    found = [(max(a, c), min(b, d)) for a, b in spans for c, d in others]
    return [(left, right) for left, right in found if left < right]
