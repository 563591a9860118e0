"""From an outline to the cells of a grid, never too few of them.

A row of cells is a strip across the outline. Between two heights where corners
lie, the sides that cross the strip run straight and do not meet, so the piece
between two of them spans exactly the columns from its leftmost to its rightmost
point. The gap is added as a square to the right and above: a row then looks down
into the strip by one gap, and each span is longer by one gap.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import ceil, floor

from ..cells import Cells, Shape

Ring = Sequence[tuple[float, float]]
_Side = tuple[float, float, float, float]  #: from the lower end to the upper one

#: Part of a cell by which a side may miss the grid and still lie on it: floats are rounded.
ON_THE_GRID = 1e-6


def cells_of_rings(rings: Sequence[Ring], cell: float, gap: float = 0.0) -> Cells:
    """Return the cells that an outline touches, with *gap* to the right of it and above.

    *rings*: the exterior and the holes, in any direction, corners in the same unit
    as *cell* and *gap*. The lower left of the outline comes to lie at (0, 0). A cell
    counts when the inside of the outline reaches into it; a side that runs along a
    line of the grid does not.

    >>> cells_of_rings([[(1, 1), (4, 1), (4, 2), (2.5, 2), (2.5, 3), (1, 3)]], 1.0)
    Cells(width=3, height=2, rows=(7, 3))
    """
    left = min(x for ring in rings for x, _ in ring)
    low = min(y for ring in rings for _, y in ring)
    moved = [[((x - left) / cell, (y - low) / cell) for x, y in ring] for ring in rings]
    grown = gap / cell
    width = _whole_up(max(x for ring in moved for x, _ in ring) + grown)
    height = _whole_up(max(y for ring in moved for _, y in ring) + grown)
    strips = _strips([side for ring in moved for side in _sides(ring)], height, grown)
    rows = (_row(sides, row, grown) for row, sides in enumerate(strips))
    return Cells(width, height, tuple(rows))


def shape_of_rings(
    rings: Sequence[Ring], cell: float, gap: float, quarters: Sequence[int]
) -> Shape:
    """Return the cells of an outline in each of the quarter turns in which it may lie."""
    lying = ((turn, cells_of_rings(turned_rings(rings, turn), cell, gap)) for turn in quarters)
    return Shape(tuple(lying))


def turned_rings(rings: Sequence[Ring], quarters: int) -> list[list[tuple[float, float]]]:
    """Return rings after so many quarter turns counter-clockwise about the origin."""
    turned = [list(ring) for ring in rings]
    for _ in range(quarters % 4):
        turned = [[(-y, x) for x, y in ring] for ring in turned]
    return turned


def _whole_up(length: float) -> int:
    return ceil(length - ON_THE_GRID)


def _sides(ring: Ring) -> Iterator[_Side]:
    """Yield the sides that are not level, each from its lower end to its upper one."""
    for (x, y), (to_x, to_y) in zip(ring, [*ring[1:], ring[0]], strict=True):
        if to_y != y:
            yield (x, y, to_x, to_y) if y < to_y else (to_x, to_y, x, y)


def _strips(sides: list[_Side], height: int, grown: float) -> list[list[_Side]]:
    """Return for each row the sides that reach into its strip, and maybe some that touch it."""
    strips: list[list[_Side]] = [[] for _ in range(height)]
    for side in sides:
        for row in range(max(0, floor(side[1]) - 1), min(height, floor(side[3] + grown) + 1)):
            strips[row].append(side)
    return strips


def _row(sides: list[_Side], row: int, grown: float) -> int:
    """Return the cells of one row: what the outline shows in its strip, as bits."""
    low, high = row - grown, row + 1.0
    bits = 0
    for lower, upper, across in _slabs(sides, low, high):
        if upper - lower > ON_THE_GRID:
            bits |= _slab(across, lower, upper, grown)
    return bits


def _slabs(
    sides: list[_Side], low: float, high: float
) -> Iterator[tuple[float, float, list[_Side]]]:
    """Yield from *low* up the heights between which no corner lies, and the sides across."""
    waiting = sorted((side for side in sides if side[1] < high), key=_low_end, reverse=True)
    inner = [y for side in waiting for y in (side[1], side[3]) if low < y < high]
    across: list[_Side] = []
    for lower, upper in pairwise(sorted({low, high, *inner})):
        across = [side for side in across if side[3] > lower]
        while waiting and waiting[-1][1] <= lower:
            across.append(waiting.pop())
        yield lower, upper, across


def _low_end(side: _Side) -> float:
    return side[1]


def _slab(across: list[_Side], lower: float, upper: float, grown: float) -> int:
    """Return the columns between the sides that cross a slab with no corner inside."""
    middle = (lower + upper) / 2
    ordered = sorted(
        (side for side in across if side[3] > middle), key=lambda side: (_at(side, middle), *side)
    )
    bits = 0
    for left, right in zip(ordered[::2], ordered[1::2], strict=False):
        start = floor(min(_at(left, lower), _at(left, upper)) + ON_THE_GRID)
        end = _whole_up(max(_at(right, lower), _at(right, upper)) + grown)
        bits |= (1 << max(end, 0)) - (1 << max(start, 0))
    return bits


def _at(side: _Side, height: float) -> float:
    """Return where a side is at a height."""
    x, y, to_x, to_y = side
    return x + (to_x - x) * (height - y) / (to_y - y)
