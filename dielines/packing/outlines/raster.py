"""A kind of sheet as one whole number, a bit for each place where a part could lie.

Bits run from the upper right of the sheet to its lower left, row by row: of a whole
number the highest bit is found at once, and most parts go to the lower left. What
follows is as if the sheet and all parts on it were turned by half a turn.

For two parts in given turns, the places of one that would meet the other are
known relative to that other; they are worked out once. When a part is put down,
these places, shifted to where it lies, are closed: one shift and one "or" for each
part that still wants a place. Places that reach over the right edge would wrap into
the next row; they are closed from the start, so nothing is lost by that.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from enum import Enum

from ..cells import Cells, Shape
from ..order import Order, Placed, Work

#: Bits that take about one step (a microsecond) in one operation on a whole number.
BITS_A_STEP = 1 << 16

#: Bits of worked-out meetings that are kept at most: 128 MB.
MOST_BITS = 1 << 30

#: Gives the raster of a kind of sheet, by its index.
Rasters = Callable[[int], "Raster"]


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


@dataclass(frozen=True)
class Stance:
    """A kind of part in one of its turns, as it stands in the rows of a sheet."""

    kind: int
    quarters: int
    width: int
    height: int
    area: int
    pieces: tuple[tuple[int, int, int, int], ...]  #: see ``rectangles``
    bits: int
    mirrored: int  #: the bits turned by half a turn in their own box
    last: int  #: index of the last bit of its box
    outside: int  #: places from which it would reach over the edge


class Raster:
    """One kind of sheet with all the stances in which parts may lie on it.

    *cell*: the side of a cell of the shapes, in units of the order.
    """

    def __init__(self, order: Order, shapes: Sequence[Shape], bed: int, cell: int = 1) -> None:
        self.cell = cell
        self.width, self.height = (side // cell for side in order.beds[bed][:2])
        self.steps = 1 + self.width * self.height // BITS_A_STEP  #: of one operation
        self.everywhere = (1 << self.width * self.height) - 1
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
        self.most_bits = MOST_BITS
        self.kept: dict[tuple[int, int], int] = {}  #: meetings, by moving and lying stance
        self._bits = 0

    def _stance(self, kind: int, quarters: int, cells: Cells) -> Stance:
        turned = half_turned(cells)
        across, up = self.width - cells.width + 1, self.height - cells.height + 1
        return Stance(
            kind,
            quarters,
            cells.width,
            cells.height,
            cells.area,
            tuple(rectangles(turned)),
            self._in_rows(turned),
            self._in_rows(cells),
            (cells.height - 1) * self.width + cells.width - 1,
            self.everywhere ^ _smeared((1 << across) - 1, up, self.width),
        )

    def _in_rows(self, cells: Cells) -> int:
        return sum(row << y * self.width for y, row in enumerate(cells.rows))

    def position(self, stance: int, place: int) -> tuple[int, int]:
        """Return x and y of the lower left of a stance at a place, in cells."""
        row, column = divmod(place, self.width)
        lying = self.stances[stance]
        return self.width - lying.width - column, self.height - lying.height - row

    def place_of(self, part: Placed) -> tuple[int, int] | None:
        """Return stance and place of a part; None where it lies off the grid."""
        for number in self.of_kind[part.kind]:
            lying = self.stances[number]
            (column, x_off), (row, y_off) = (divmod(at, self.cell) for at in (part.x, part.y))
            if lying.quarters == part.quarters and not x_off and not y_off:
                across, up = self.width - lying.width - column, self.height - lying.height - row
                return (number, up * self.width + across) if min(across, up) >= 0 else None
        return None

    def areas(self) -> list[int]:
        """Return the cells of each kind, 0 where it does not fit at all."""
        return [min((self.stances[i].area for i in stances), default=0) for stances in self.of_kind]

    def reach(self, stance: int, place: int, corner: Corner) -> tuple[int, int]:
        """Return how far a stance comes from a corner: its far edge up or down, then aside."""
        x, y = self.position(stance, place)
        lying = self.stances[stance]
        up = y + lying.height if corner.is_low else self.height - y
        return up, x + lying.width if corner.is_left else self.width - x

    def meetings(self, moving: int, lying: int, work: Work) -> int:
        """Return the places of one stance that meet another one at the origin.

        They are shifted by ``last`` of the moving one, so that none is negative.
        """
        found = self.kept.get((moving, lying))
        if found is None:
            found = self._found_meetings(self.stances[moving], self.stances[lying], work)
            self._keep(moving, lying, found)
        return found

    def _keep(self, moving: int, lying: int, found: int) -> None:
        self._bits += found.bit_length()
        if self._bits > self.most_bits:
            self.kept.clear()
            self._bits = found.bit_length()
        self.kept[moving, lying] = found

    def _found_meetings(self, moving: Stance, lying: Stance, work: Work) -> int:
        """Return the meetings, by way of the stance that is made of fewer rectangles."""
        work.spend(8 * self.steps * min(len(moving.pieces), len(lying.pieces)))
        found = 0
        if len(moving.pieces) < len(lying.pieces):
            start = lying.bits << moving.last
            for x, y, width, height in moving.pieces:
                last = (y + height - 1) * self.width + x + width - 1
                found |= self._smeared_both_ways(start, width, height) >> last
        else:
            for x, y, width, height in lying.pieces:
                smeared = self._smeared_both_ways(moving.mirrored, width, height)
                found |= smeared << y * self.width + x
        return found

    def _smeared_both_ways(self, bits: int, width: int, height: int) -> int:
        return _smeared(_smeared(bits, width, 1), height, self.width)


def rasters_of(order: Order, shapes: Sequence[Shape], cell: int = 1) -> Rasters:
    """Return what gives the raster of each kind of sheet, made when it is first asked for."""
    made: dict[int, Raster] = {}

    def raster(bed: int) -> Raster:
        if bed not in made:
            made[bed] = Raster(order, shapes, bed, cell)
        return made[bed]

    return raster


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


def half_turned(cells: Cells) -> Cells:
    """Return the cells turned by half a turn.

    >>> half_turned(Cells(3, 2, (0b011, 0b001)))
    Cells(width=3, height=2, rows=(4, 6))
    """
    rows = (int(f"{row:0{cells.width}b}"[::-1], 2) for row in reversed(cells.rows))
    return Cells(cells.width, cells.height, tuple(rows))


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
