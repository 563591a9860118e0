"""How thick the closed book is anywhere: exact columns through all that lies between the boards.

Every edge of a panel, a zone of tape, a mat or what a page holds is a line of the
grid, so that each cell has one thickness all over. Exact for paper, which gives
way; stiff board rests on the thickest place.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, NamedTuple

from .levels import JUST_INSIDE, TOUCHING, Box, PanelKey
from .stack import Stack


class TwoThicknesses(NamedTuple):
    """How thick the pages are somewhere, without the boards."""

    upright: float
    pressed: float


@dataclass(frozen=True)
class Columns:
    """The thickness of each cell of a grid, materials alone, and its extent upright, mm."""

    xs: Sequence[float]
    ys: Sequence[float]
    pressed: Any  #: array, a row for each cell across, a column for each cell up
    upright: Any

    def most(self, within: Box) -> TwoThicknesses:
        """Return the largest thickness upright and pressed of the cells that reach into a box."""
        across = _cells(self.xs, within.left, within.right)
        up = _cells(self.ys, within.bottom, within.top)
        upright, pressed = self.upright[across, up], self.pressed[across, up]
        if not pressed.size:
            return TwoThicknesses(0.0, 0.0)
        return TwoThicknesses(float(upright.max()), float(pressed.max()))

    def at(self, x: float, y: float) -> TwoThicknesses:
        """Return the thickness upright and pressed at a place."""
        return self.most(Box(x - JUST_INSIDE, y - JUST_INSIDE, x + JUST_INSIDE, y + JUST_INSIDE))

    @property
    def whole(self) -> Box:
        """The rectangle around everything."""
        return Box(self.xs[0], self.ys[0], self.xs[-1], self.ys[-1])


def columns_of(stack: Stack, upright: Mapping[PanelKey, float]) -> Columns:
    """Return the thickness of all pages anywhere; *upright* are the heights of their panels."""
    import numpy as np

    panels = [level for level in stack.levels.values() if not stack.is_board(level.key[0])]
    layers = [(level.box, level.caliper) for level in panels]
    for level in panels:
        layers += [(coat.box, coat.thickness) for coat in stack.coats.get(level.key, ())]
    xs = _lines(edge for box, _ in layers for edge in (box.left, box.right))
    ys = _lines(edge for box, _ in layers for edge in (box.bottom, box.top))
    shape = (max(len(xs) - 1, 0), max(len(ys) - 1, 0))
    pressed = np.zeros(shape)
    high, low = np.full(shape, -np.inf), np.full(shape, np.inf)
    for box, thickness in layers:
        pressed[_cells(xs, box.left, box.right), _cells(ys, box.bottom, box.top)] += thickness
    for level in panels:
        cells = (
            _cells(xs, level.box.left, level.box.right),
            _cells(ys, level.box.bottom, level.box.top),
        )
        middle, half = upright[level.key], level.caliper / 2
        high[cells] = np.maximum(high[cells], middle + half)
        low[cells] = np.minimum(low[cells], middle - half)
    return Columns(xs, ys, pressed, np.where(high > low, high - low, 0.0))


def _lines(edges: Iterable[float]) -> list[float]:
    """Return the lines of the grid in order; edges that only touch are one line."""
    lines: list[float] = []
    for edge in sorted(edges):
        if not lines or edge - lines[-1] > TOUCHING:
            lines.append(edge)
    return lines


def _cells(lines: Sequence[float], low: float, high: float) -> slice:
    """Return the cells that share more than an edge with the range from *low* to *high*."""
    first = bisect_right(lines, low + JUST_INSIDE) - 1
    last = bisect_left(lines, high - JUST_INSIDE)
    return slice(max(first, 0), max(last, 0))
