"""The most valuable way to cut a sheet from edge to edge, exactly, each box as often as one likes.

Dynamic programme over the sums of sides at which a cut can stand (Gilmore and Gomory
1966; Herz 1972; Beasley 1985): every cut can be moved to the left or downwards until it
touches a box, so that cuts are needed at sums of sides only, and every piece may be
rounded down to such sums. One table for each number of stages and each way of the
first cut; with any number of stages, tables follow until nothing changes.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple

from ..order import Way, Work
from .blocks import CROSS, Block, joined
from .sums import cut_places

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Table = NDArray[np.int64]
    Places = NDArray[np.intp]


class Wanted(NamedTuple):
    """A box as it lies, with what it is worth and how many of it can be used."""

    block: Block
    value: int
    limit: int


@dataclass(frozen=True)
class Programme:
    """The tables: *values[s][way]* holds what a piece of so much by so much is worth in s stages.

    A piece of widths[i] x heights[j] stands in row i and column j. *is_exact*: no place
    for a cut was left out.
    """

    wanted: tuple[Wanted, ...]
    widths: Places
    heights: Places
    values: list[dict[Way, Table]]
    is_exact: bool

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
            return self._box(value, int(self.widths[i]), int(self.heights[j]))
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
    """Return the tables for a sheet of *width* x *height*; exact unless there are too many places for cuts.

    A limit is heeded in the sums of sides only: the best pattern may hold more of a
    box, and is worth at least as much as any that does not.
    """
    import numpy as np

    fits = tuple(
        one for one in wanted
        if one.value > 0 < one.limit and one.block.width <= width and one.block.height <= height
    )  # fmt: skip
    _refuse_what_overflows(fits, width * height)
    across = cut_places([(one.block.width, one.limit) for one in fits], width)
    up = cut_places([(one.block.height, one.limit) for one in fits], height)
    widths, heights = np.array(across.row, dtype=np.intp), np.array(up.row, dtype=np.intp)
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
    return Programme(fits, widths, heights, values, across.are_all and up.are_all)


def _refuse_what_overflows(wanted: Sequence[Wanted], area: int) -> None:
    """Raise where a sheet of boxes may be worth more than a table can hold."""
    worth = max((one.value * (area // _area(one.block)) for one in wanted), default=0)
    if worth >= 1 << 61:
        raise ValueError(f"prices are too large: a sheet may be worth {worth}")


def _area(block: Block) -> int:
    return block.width * block.height


def relaxed_best(
    wanted: Sequence[Wanted], width: int, height: int, unit: int, stages: int | None, work: Work
) -> int:
    """Return what no sheet is worth more than: boxes and sheet rounded down to a unit.

    Where a box lies from a to b, its floor is at most the floor of b less the floor of
    a: every pattern is one of the rounded boxes as well. Of boxes that are thinner than
    a unit all that can be used are counted beside.
    """
    sides = [(one.block.width // unit, one.block.height // unit) for one in wanted]
    thin = {
        one.block.kind: one.value * one.limit
        for one, size in zip(wanted, sides, strict=True)
        if 0 in size
    }
    smaller = [
        one._replace(block=Block(*size))
        for one, size in zip(wanted, sides, strict=True)
        if one.block.kind not in thin
    ]
    found = programme(smaller, width // unit, height // unit, stages, work)
    return found.best + sum(thin.values())


def _steps(columns: int, rows: int) -> int:
    """Return the steps of one pair of tables: one step is about a microsecond."""
    return 10 * (columns + rows) + columns * rows * (columns + rows) // 10_000


def _in_rows(pieces: Table, lengths: Places) -> Table:
    """Return what rows of such pieces are worth, for each length of the row."""
    import numpy as np

    best = np.array(pieces)
    for i in range(1, len(lengths)):
        near, far = _halves(lengths, i)
        if len(near):
            np.maximum(best[i], (best[near] + best[far]).max(axis=0), out=best[i])
    return best


def _halves(lengths: Places, at: int) -> tuple[Places, Places]:
    """Return the places of the shorter half and of what is left, for each cut of a length.

    Of two parts of a row one is no longer than half of it.
    """
    import numpy as np

    last = int(np.searchsorted(lengths, lengths[at] // 2, side="right"))
    near = np.arange(1, last)
    return near, np.searchsorted(lengths, lengths[at] - lengths[1:last], side="right") - 1
