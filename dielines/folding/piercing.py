"""Panels that stand through each other once a step of folding is finished."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise

from ..paths import is_among, nearest_between
from .layering import Clash, ClashKind, Pair
from .meeting import Flat, Motion, Sheet, level_height

ABOVE = 1e-4  #: mm; what rises less has not left the plane
INSIDE = 1e-3  #: mm; how far from the border of both panels they must meet

Stretch = tuple[float, float]
"""From where to where along a line, mm."""


def pierced(sheet: Sheet, moved: Mapping[Pair, Motion], step: int) -> Iterator[Clash]:
    """Yield every two of the *moved* panels that stand through each other after a step.

    *moved* takes the drawing of the second of each pair into that of the first.
    Panels in one plane, or in parallel planes, are a matter of their order.
    """
    for pair, motion in moved.items():
        first, second = (sheet.corners[name] for name in pair)
        if level_height(motion) is None and stand_through(first, second, motion):
            yield Clash(ClashKind.PIERCED, *pair, step)


def stand_through(first: Sequence[Flat], second: Sequence[Flat], motion: Motion) -> bool:
    """Return whether two panels meet in a line that runs inside both of them."""
    heights = [motion.at(x, y)[2] for x, y in second]
    if min(heights) > -ABOVE or max(heights) < ABOVE:
        return False
    start, end = _line(motion)
    theirs = _stretches([motion.at(x, y)[:2] for x, y in second], start, end, heights)
    ours = _stretches(first, start, end)
    for low, high in _shared(ours, theirs):
        middle = _along(start, end, (low + high) / 2)
        if _is_inside(middle, first) and _is_inside(motion.origin_of(*middle, 0.0), second):
            return True
    return False


def _line(motion: Motion) -> tuple[Flat, Flat]:
    """Return two places, 1 mm apart, on the line in which the planes of two panels meet."""
    nx, ny = motion[2], motion[5]  # the second's normal in the first's plane
    length_squared = nx * nx + ny * ny
    away = (nx * motion[9] + ny * motion[10] + motion[8] * motion[11]) / length_squared
    length = length_squared**0.5
    start = nx * away, ny * away
    return start, (start[0] - ny / length, start[1] + nx / length)


def _along(start: Flat, end: Flat, at: float) -> Flat:
    return start[0] + at * (end[0] - start[0]), start[1] + at * (end[1] - start[1])


def _stretches(
    corners: Sequence[Flat], start: Flat, end: Flat, heights: Sequence[float] = ()
) -> list[Stretch]:
    """Return where the line from *start* to *end* runs inside a panel.

    *heights* of its corners beside the line are worked out in its plane unless given.
    """
    dx, dy = end[0] - start[0], end[1] - start[1]
    along = [(x - start[0]) * dx + (y - start[1]) * dy for x, y in corners]
    aside = heights or [dx * (y - start[1]) - dy * (x - start[0]) for x, y in corners]
    ring = list(zip(along, aside, strict=True))
    cuts = sorted(
        a + (b - a) * p / (p - q)
        for (a, p), (b, q) in pairwise([*ring, ring[0]])
        if (p > 0) != (q > 0)
    )
    return list(zip(cuts[::2], cuts[1::2], strict=True))


def _shared(ours: Sequence[Stretch], theirs: Sequence[Stretch]) -> Iterator[Stretch]:
    for a, b in ours:
        for c, d in theirs:
            if min(b, d) - max(a, c) > 2 * INSIDE:
                yield max(a, c), min(b, d)


def _is_inside(point: Flat, panel: Sequence[Flat]) -> bool:
    """Return whether *point* lies inside a panel, not on or near its border."""
    if not is_among(panel, point):
        return False
    sides = pairwise([*panel, panel[0]])
    return all(math.dist(point, nearest_between(a, b, point)) > INSIDE for a, b in sides)
