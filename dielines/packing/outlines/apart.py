"""Which parts can never lie on one sheet together, and how many sheets that takes at least.

A part is taken as the cells that lie wholly inside its outline, so that two parts which
are found to overlap do so in truth. Only places a whole number of cells apart need to
be tried: between two such places the cells of one part cover some of both, so that
parts which are clear of each other there are clear at the whole places beside it too.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from math import ceil, floor

from ..cells import Cells
from .rings import Ring, cells_of_rings, turned_rings

CELLS = 80  #: along the longer side of the larger of both parts; finer only proves more
_Run = tuple[int, int]


@dataclass(frozen=True)
class Band:
    """Rows of cells that are alike: from *low* up to *high*, and the runs that are set."""

    low: int
    high: int
    runs: tuple[_Run, ...]


@dataclass(frozen=True)
class Inside:
    """What surely belongs to a part as it lies, in cells, and its size in the caller's unit."""

    width: float
    height: float
    bands: tuple[Band, ...]


def inside_of(rings: Sequence[Ring], quarters: int, cell: float, gap: float) -> Inside:
    """Return the cells inside an outline after so many quarter turns, grown by the *gap*.

    *rings*: exterior and holes. The size that comes with it counts the gap as well.
    """
    turned = turned_rings(rings, quarters)
    xs = [x for ring in turned for x, _ in ring]
    ys = [y for ring in turned for _, y in ring]
    left, low = min(xs), min(ys)
    columns, rows = ceil((max(xs) - left) / cell) + 1, ceil((max(ys) - low) / cell) + 1
    right, high = left + columns * cell, low + rows * cell
    frame = [(left, low), (right, low), (right, high), (left, high)]
    outside = cells_of_rings([frame, *turned], cell)
    full = (1 << columns) - 1
    found = Cells(columns, rows, tuple(full & ~row for row in outside.rows[:rows]))
    grown = found.grown(floor(gap / cell + 1e-9))
    return Inside(max(xs) - left + gap, max(ys) - low + gap, tuple(_bands(grown)))


def _bands(cells: Cells) -> Iterator[Band]:
    start = 0
    for y in range(1, cells.height + 1):
        if y == cells.height or cells.rows[y] != cells.rows[start]:
            if cells.rows[start]:
                yield Band(start, y, tuple(_runs(cells.rows[start])))
            start = y


def _runs(row: int) -> Iterator[_Run]:
    start = 0
    while row >> start:
        start += ((row >> start) & -(row >> start)).bit_length() - 1
        length = (~(row >> start) & ((row >> start) + 1)).bit_length() - 1
        yield start, start + length
        start += length


def can_lie_together(
    one: Sequence[Inside], other: Sequence[Inside], width: float, height: float, cell: float
) -> bool:
    """Return False only where two parts, each in any of its ways, never share a sheet.

    *width* and *height*, in the unit of the parts, are those of the sheet with a gap.
    """
    return any(_clear_somewhere(a, b, width, height, cell) for a in one for b in other)


def _clear_somewhere(a: Inside, b: Inside, width: float, height: float, cell: float) -> bool:
    across = _places(a.width - width, width - b.width, cell)
    up = _places(a.height - height, height - b.height, cell)
    if not across or not up:
        return False
    pairs = [(i, j, _blocked(i, j, across)) for i in a.bands for j in b.bands]
    full = (1 << len(across)) - 1
    for dy in sorted(up, key=lambda shift: -abs(shift)):
        blocked = 0
        for i, j, bits in pairs:
            if i.low < j.high + dy and j.low + dy < i.high:
                blocked |= bits
        if blocked != full:
            return True
    return False


def _places(least: float, most: float, cell: float) -> range:
    """Return the whole numbers of cells to try for places from *least* to *most*."""
    if least > most + 1e-9:
        return range(0)
    first, last = ceil(least / cell - 1e-9), floor(most / cell + 1e-9)
    return range(first, last + 1) if first <= last else range(last, last + 1)


def _blocked(a: Band, b: Band, across: range) -> int:
    """Return the places, as bits, at which two bands overlap where they are level."""
    bits = 0
    for start, end in a.runs:
        for other_start, other_end in b.runs:
            low = max(start - other_end + 1, across[0]) - across[0]
            high = min(end - other_start - 1, across[-1]) - across[0]
            if low <= high:
                bits |= (1 << (high + 1)) - (1 << low)
    return bits


def most_apart(counts: Sequence[int], shares: Callable[[int, int], bool]) -> int:
    """Return how many parts there are of which no two share a sheet; never too many.

    *counts* of each kind, those most likely to be among them first; *shares* tells
    whether one part of each of two kinds can share a sheet.

    >>> most_apart([3, 2, 9], lambda a, b: 2 in (a, b))
    5
    """
    kinds = range(len(counts))
    alone = {kind: counts[kind] if not shares(kind, kind) else 1 for kind in kinds}
    best = 0
    for first in kinds:
        chosen = [first]
        for kind in sorted(kinds, key=lambda kind: (-alone[kind], kind)):
            if kind not in chosen and not any(shares(kind, one) for one in chosen):
                chosen.append(kind)
        best = max(best, sum(alone[kind] for kind in chosen))
    return best
