"""Which contours lie inside which others."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

from ..paths import Path, flattened, is_among

SAGITTA = 0.05  #: mm; how far chords may be off arcs here
SMALLER = 1 - 1e-9  #: what lies inside has less than this share of the area around it

Corners = list[tuple[float, float]]


@dataclass(frozen=True, eq=False)
class Contour:
    """A closed path as a polygon, with what tells quickly that it holds another one."""

    path: Path

    @cached_property
    def corners(self) -> Corners:
        """The polygon, arcs as chords."""
        return flattened(self.path, SAGITTA)

    @cached_property
    def box(self) -> tuple[float, float, float, float]:
        """Left, bottom, right and top, mm."""
        xs, ys = zip(*self.corners, strict=True)
        return min(xs), min(ys), max(xs), max(ys)

    @cached_property
    def area(self) -> float:
        """Square millimetres, whichever way the contour runs."""
        ends = [*self.corners[1:], self.corners[0]]
        twice = (a[0] * b[1] - b[0] * a[1] for a, b in zip(self.corners, ends, strict=True))
        return abs(sum(twice)) / 2

    @cached_property
    def inner_point(self) -> tuple[float, float]:
        """A point well inside: the middle of the widest stretch at about half the height."""
        _, bottom, _, top = self.box
        level = _level_between_corners(self.corners, (bottom + top) / 2)
        xs = sorted(_crossings(self.corners, level))
        stretches = [(b - a, (a + b) / 2) for a, b in zip(xs[::2], xs[1::2], strict=False)]
        return max(stretches, default=(0.0, self.box[0]))[1], level

    def holds(self, other: Contour) -> bool:
        """Return whether *other* lies inside; both may touch, but not cross."""
        left, bottom, right, top = self.box
        x, y = other.inner_point
        if not (left < x < right and bottom < y < top):
            return False
        return other.area < self.area * SMALLER and is_among(self.corners, (x, y))


def _level_between_corners(corners: Corners, wanted: float) -> float:
    """Return a height near *wanted* that passes through no corner."""
    heights = sorted({y for _, y in corners})
    gaps = list(itertools.pairwise(heights))
    if not gaps:
        return wanted
    low, high = next((gap for gap in gaps if gap[1] > wanted), gaps[-1])
    return (low + high) / 2


def _crossings(corners: Corners, level: float) -> list[float]:
    """Return where the sides of the polygon cross a height."""
    ends = [*corners[1:], corners[0]]
    return [
        x0 + (x1 - x0) * (level - y0) / (y1 - y0)
        for (x0, y0), (x1, y1) in zip(corners, ends, strict=True)
        if (y0 > level) != (y1 > level)
    ]


def holders(contours: Sequence[Contour]) -> list[list[int]]:
    """Return for each contour the indices of all that hold it, the innermost first.

    >>> from dielines.paths import rectangle
    >>> boxes = [rectangle(0, 0, 90, 90), rectangle(30, 30, 40, 40), rectangle(10, 10, 80, 80)]
    >>> holders([Contour(box) for box in boxes])
    [[], [2, 0], [0]]
    """
    by_size = sorted(range(len(contours)), key=lambda i: (contours[i].area, i))
    found: list[list[int]] = [[] for _ in contours]
    for rank, i in enumerate(by_size):
        found[i] = [j for j in by_size[rank + 1 :] if contours[j].holds(contours[i])]
    return found
