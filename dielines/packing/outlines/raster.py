"""A sheet as one whole number: bit y * width + x for the place (x, y).

For two parts in given turns, the places of one that would meet the other are
known relative to that other; they are worked out once. When a part is put down,
these places, shifted to where it lies, are closed: one shift and one "or" for each
part that still wants a place. The lowest bit that is not set is then the lowest free
place, the leftmost of them. Places that reach over the right edge would wrap into
the next row; they are closed from the start, so nothing is lost by that.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum

from ..cells import Cells, Shape
from ..order import Order, Work

#: Bits that take about one step (a microsecond) in one operation on a whole number.
BITS_A_STEP = 1 << 16


@dataclass(frozen=True)
class Stance:
    """A kind of part in one of its turns: its bits on this sheet and the places it cannot have."""

    kind: int
    quarters: int
    cells: Cells
    bits: int
    outside: int  #: places from which it would reach over the edge


class Corner(Enum):
    """The corner of a sheet towards which a part goes: up or down first, then aside."""

    LOW_LEFT = "low left"
    LOW_RIGHT = "low right"
    HIGH_LEFT = "high left"
    HIGH_RIGHT = "high right"

    @property
    def is_low(self) -> bool:
        """Whether it is one of the two lower corners."""
        return self in (Corner.LOW_LEFT, Corner.LOW_RIGHT)

    @property
    def is_left(self) -> bool:
        """Whether it is one of the two corners at the left."""
        return self in (Corner.LOW_LEFT, Corner.HIGH_LEFT)


class Raster:
    """One kind of sheet with all the stances in which parts may lie on it."""

    def __init__(self, order: Order, shapes: Sequence[Shape], bed: int) -> None:
        self.width, self.height = order.beds[bed].width, order.beds[bed].height
        self.stances: tuple[Stance, ...] = tuple(
            self._stance(kind, quarters, cells)
            for kind, shape in enumerate(shapes)
            for quarters, cells in legal_turns(order, shape, kind, bed)
            if cells.width <= self.width and cells.height <= self.height
        )
        self.of_kind: tuple[tuple[int, ...], ...] = tuple(
            tuple(i for i, stance in enumerate(self.stances) if stance.kind == kind)
            for kind in range(len(shapes))
        )
        self._meetings: dict[tuple[int, int], int] = {}
        self.steps = 1 + self.width * self.height // BITS_A_STEP  #: of one operation

    def _stance(self, kind: int, quarters: int, cells: Cells) -> Stance:
        bits = sum(row << y * self.width for y, row in enumerate(cells.rows))
        across, up = self.width - cells.width + 1, self.height - cells.height + 1
        inside = _smeared((1 << across) - 1, up, self.width)
        return Stance(kind, quarters, cells, bits, (1 << self.width * self.height) - 1 - inside)

    def reach(self, stance: int, place: int, corner: Corner) -> tuple[int, int]:
        """Return how far a stance comes from a corner: its far edge up or down, then aside."""
        y, x = divmod(place, self.width)
        cells = self.stances[stance].cells
        up = y + cells.height if corner.is_low else self.height - y
        return up, x + cells.width if corner.is_left else self.width - x

    def last_cell(self, stance: int) -> int:
        """Return the index of a stance's last cell, by which its meetings are shifted."""
        cells = self.stances[stance].cells
        return (cells.height - 1) * self.width + cells.width - 1

    def meetings(self, moving: int, lying: int) -> int:
        """Return the places of one stance that meet another one at the origin.

        They are shifted by ``last_cell(moving)``, so that none is negative.
        """
        found = self._meetings.get((moving, lying))
        if found is None:
            found = self._found_meetings(moving, lying)
            self._meetings[moving, lying] = found
        return found

    def _found_meetings(self, moving: int, lying: int) -> int:
        start = self.stances[lying].bits << self.last_cell(moving)
        wide: dict[int, int] = {}
        found = 0
        for x, y, width, height in rectangles(self.stances[moving].cells):
            if width not in wide:
                wide[width] = _smeared(start, width, 1)
            last = (y + height - 1) * self.width + x + width - 1
            found |= _smeared(wide[width], height, self.width) >> last
        return found


class Sheet:
    """What lies on one sheet, and which places are closed to each stance."""

    def __init__(self, raster: Raster, work: Work) -> None:
        self.raster = raster
        self.lying: list[tuple[int, int]] = []  #: stance and place
        self._work = work
        self._everywhere = (1 << raster.width * raster.height) - 1
        self._closed = [stance.outside for stance in raster.stances]
        self._seen = [0] * len(raster.stances)

    def free_place(self, stance: int, corner: Corner) -> int | None:
        """Return the free place of a stance that lies farthest into a corner."""
        width = self.raster.width
        free = self._everywhere & ~self._brought_up_to_date(stance)
        self._work.spend(4 * self.raster.steps)
        if not free:
            return None
        edge = (free & -free if corner.is_low else free).bit_length() - 1
        if corner in (Corner.LOW_LEFT, Corner.HIGH_RIGHT):
            return edge
        start = edge - edge % width
        row = free >> start & (1 << width) - 1
        aside = row & -row if corner.is_left else row
        return start + aside.bit_length() - 1

    def _brought_up_to_date(self, stance: int) -> int:
        closed = self._closed[stance]
        seen = self._seen[stance]
        if seen == len(self.lying):
            return closed
        raster = self.raster
        last = raster.last_cell(stance)
        for other, place in self.lying[seen:]:
            shift = place - last
            meetings = raster.meetings(stance, other)
            closed |= meetings << shift if shift >= 0 else meetings >> -shift
        self._work.spend((len(self.lying) - seen) * raster.steps)
        self._closed[stance] = closed
        self._seen[stance] = len(self.lying)
        return closed

    def put(self, stance: int, place: int) -> None:
        """Lay a stance down at a place."""
        self.lying.append((stance, place))


def legal_turns(order: Order, shape: Shape, kind: int, bed: int) -> list[tuple[int, Cells]]:
    """Return the turns in which a kind may lie on a sheet, each shape once.

    A quarter of a turn needs a box that may turn, or a sheet without grain.
    """
    free = order.boxes[kind].may_turn or order.beds[bed].turns_all
    found: list[tuple[int, Cells]] = []
    for quarters, cells in shape.lying:
        is_new = all(cells != other for _, other in found)
        if is_new and (free or quarters % 2 == 0):
            found.append((quarters, cells))
    return found


def rectangles(cells: Cells) -> list[tuple[int, int, int, int]]:
    """Return (x, y, width, height) of rectangles that make up the cells: runs, joined upwards.

    >>> rectangles(Cells(3, 2, (0b111, 0b101)))
    [(0, 0, 3, 1), (0, 1, 1, 1), (2, 1, 1, 1)]
    """
    done: list[tuple[int, int, int, int]] = []
    growing: dict[tuple[int, int], int] = {}  #: of a run: the row where it began
    for y, row in enumerate((*cells.rows, 0)):
        runs = _runs(row)
        for run in [run for run in growing if run not in runs]:
            begun = growing.pop(run)
            done.append((run[0], begun, run[1], y - begun))
        for run in runs:
            growing.setdefault(run, y)
    return sorted(done, key=lambda found: (found[1], found[0]))


def _runs(row: int) -> list[tuple[int, int]]:
    """Return (start, length) of the runs of set bits."""
    found = []
    start = 0
    while row:
        skipped = (row & -row).bit_length() - 1
        row >>= skipped
        length = (~row & (row + 1)).bit_length() - 1
        found.append((start + skipped, length))
        row >>= length
        start += skipped + length
    return found


def _smeared(bits: int, times: int, step: int) -> int:
    """Return the bits with copies 1, 2, ... *times* - 1 steps above them, in few operations."""
    have = 1
    while have < times:
        more = min(have, times - have)
        bits |= bits << more * step
        have += more
    return bits
