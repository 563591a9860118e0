"""The most valuable way to cut a sheet from edge to edge, exactly, each box as often as one likes.

Dynamic programme over the sums of sides at which a cut can stand (Gilmore and Gomory
1966; Herz 1972; Beasley 1985): every cut can be moved to the left or downwards until it
touches a box, so that cuts are needed at sums of sides only, and every piece may be
rounded down to such sums. One table for each number of stages and each way of the
first cut; with any number of stages, tables follow until nothing changes.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple

from ..order import Way, Work
from .blocks import CROSS, Block, joined

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Table = NDArray[np.int64]


class Wanted(NamedTuple):
    """A box as it lies, with what it is worth and how many of it can be used."""

    block: Block
    value: int
    limit: int


def sums(lengths: Iterable[tuple[int, int]], largest: int) -> list[int]:
    """Return all sums of the lengths up to *largest*, 0 among them; each so often at most.

    >>> sums([(4, 2), (7, 9)], 16)
    [0, 4, 7, 8, 11, 14, 15]
    """
    reached, mask = 1, (1 << (largest + 1)) - 1
    for length, limit in lengths:
        left, step = min(limit, largest // length), 1
        while left > 0:
            taken = min(step, left)
            reached |= reached << (length * taken) & mask
            left, step = left - taken, step * 2
    bits = bin(reached)[:1:-1]
    found, at = [], bits.find("1")
    while at >= 0:
        found.append(at)
        at = bits.find("1", at + 1)
    return found


@dataclass(frozen=True)
class Programme:
    """The tables: *values[s][way]* holds what a piece of so much by so much is worth in s stages.

    A piece of widths[i] x heights[j] stands in row i and column j.
    """

    wanted: tuple[Wanted, ...]
    widths: list[int]
    heights: list[int]
    values: list[dict[Way, Table]]

    @property
    def best(self) -> int:
        """What the whole sheet is worth."""
        return max(int(table[-1, -1]) for table in self.values[-1].values())

    def block(self) -> Block | None:
        """Return the boxes of the most valuable pattern; None where nothing fits."""
        stage = len(self.values) - 1
        way = max(CROSS, key=lambda way: int(self.values[-1][way][-1, -1]))
        return self._block(way, stage, len(self.widths) - 1, len(self.heights) - 1)

    def _block(self, way: Way, stage: int, i: int, j: int) -> Block | None:
        """Return the block of one entry, found by asking which cut gives its value."""
        value = int(self.values[stage][way][i, j])
        if value == 0:
            return None
        if stage == 0:
            return self._box(value, self.widths[i], self.heights[j])
        if value == int(self.values[stage - 1][CROSS[way]][i, j]):
            return self._block(CROSS[way], stage - 1, i, j)
        near, far = self._cut(way, stage, i, j)
        parts = (self._block(way, stage, *near), self._block(way, stage, *far))
        return joined(way, [part for part in parts if part is not None])

    def _box(self, value: int, width: int, height: int) -> Block:
        return next(
            block
            for block, worth, _ in self.wanted
            if worth == value and block.width <= width and block.height <= height
        )

    def _cut(self, way: Way, stage: int, i: int, j: int) -> tuple[tuple[int, int], tuple[int, int]]:
        """Return the two pieces, as row and column, that are worth as much as the whole."""
        table = self.values[stage][way]
        line, row = (table[:, j], self.widths) if way is Way.UPRIGHT else (table[i], self.heights)
        at = i if way is Way.UPRIGHT else j
        near, far = _halves(row, at)
        first = int((line[near] + line[far] == line[at]).argmax())
        one, other = int(near[first]), int(far[first])
        return ((one, j), (other, j)) if way is Way.UPRIGHT else ((i, one), (i, other))


def programme(
    wanted: Sequence[Wanted], width: int, height: int, stages: int | None, work: Work
) -> Programme:
    """Return the tables for a sheet of *width* x *height*; exact unless limits are passed.

    A limit is heeded in the sums of sides only: the best pattern may hold more of a
    box, and is worth at least as much as any that does not.
    """
    import numpy as np

    fits = tuple(
        one for one in wanted
        if one.value > 0 < one.limit and one.block.width <= width and one.block.height <= height
    )  # fmt: skip
    widths = sums(((one.block.width, one.limit) for one in fits), width)
    heights = sums(((one.block.height, one.limit) for one in fits), height)
    single = np.zeros((len(widths), len(heights)), dtype=np.int64)
    for block, value, _ in fits:
        i, j = np.searchsorted(widths, block.width), np.searchsorted(heights, block.height)
        np.maximum(single[i:, j:], value, out=single[i:, j:])
    values = [{Way.UPRIGHT: single, Way.LEVEL: single}]
    while stages is None or len(values) <= stages:
        below = values[-1]
        rows = _in_rows(below[Way.LEVEL], widths)
        piles = _in_rows(below[Way.UPRIGHT].T, heights).T
        work.spend(_steps(len(widths), len(heights)))
        if (rows == below[Way.LEVEL]).all() and (piles == below[Way.UPRIGHT]).all():
            break
        values.append({Way.UPRIGHT: rows, Way.LEVEL: piles})
    return Programme(fits, widths, heights, values)


def _steps(columns: int, rows: int) -> int:
    """Return the steps of one pair of tables: one step is about a microsecond."""
    return 10 * (columns + rows) + columns * rows * (columns + rows) // 10_000


def _in_rows(pieces: Table, lengths: list[int]) -> Table:
    """Return what rows of such pieces are worth, for each length of the row."""
    import numpy as np

    best = np.array(pieces)
    for i in range(1, len(lengths)):
        near, far = _halves(lengths, i)
        if len(near):
            np.maximum(best[i], (best[near] + best[far]).max(axis=0), out=best[i])
    return best


def _halves(lengths: list[int], at: int) -> tuple[NDArray[np.intp], NDArray[np.intp]]:
    """Return the places of the shorter half and of what is left, for each cut of a length.

    Of two parts of a row one is no longer than half of it.
    """
    import numpy as np

    row = np.asarray(lengths)
    last = int(np.searchsorted(row, row[at] // 2, side="right"))
    near = np.arange(1, last)
    return near, np.searchsorted(row, row[at] - row[1:last], side="right") - 1
