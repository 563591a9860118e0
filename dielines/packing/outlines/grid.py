"""How fine the grid of a sheet is: exact for every part if that can be had, or else safe."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from fractions import Fraction
from math import gcd, lcm

from ..order import Order

#: Cells on the longer side of a sheet beyond which a grid is slow: about 20 kB a sheet.
MOST_CELLS = 400

#: Cells on the longer side up to which a grid that is exact is worth its time.
MOST_EXACT = 800

#: Units by which a corner may miss a whole number: floats are rounded.
_NEARLY = 1e-4


def cell_for(lengths: Iterable[Fraction], longest: Fraction, most: int = MOST_CELLS) -> Fraction:
    """Return the side of a cell, in the unit of the lengths.

    *lengths*: every distance that should be exact: the gap, and the coordinates of
    all corners from the lower left of their part. *longest*: the longer side of the
    largest sheet. The cell is the largest that divides all lengths; where a sheet
    would then have more than *most* cells along its side, one of those that lose
    least by taking every length up to whole cells.

    >>> cell_for([Fraction(5, 2), Fraction(15, 8)], Fraction(12))
    Fraction(5, 8)
    >>> cell_for([Fraction(1, 1000), Fraction(10)], Fraction(300), 30)
    Fraction(10, 1)
    """
    wanted = sorted({length for length in lengths if length > 0})
    if not wanted:
        return longest / most
    exact = _common_measure(wanted)
    if longest <= exact * most:
        return exact
    return _least_loss(wanted, longest, most)


def _common_measure(lengths: list[Fraction]) -> Fraction:
    """Return the largest length that divides all."""
    below = lcm(*(length.denominator for length in lengths))
    return Fraction(gcd(*(int(length * below) for length in lengths)), below)


def _least_loss(lengths: list[Fraction], longest: Fraction, most: int) -> Fraction:
    """Return the cell between the finest and a third coarser that rounds up least in all."""
    cells = [longest / count for count in range(most, most * 3 // 4, -1)]
    return min(cells, key=lambda cell: (sum(-length % cell for length in lengths), cell))


def units_a_cell(corners: Sequence[float], order: Order) -> int:
    """Return how many units of an order a cell measures.

    *corners*: the coordinates of all corners from the lower left of their part and the
    gap, in units. Where all are whole numbers, the cell is the largest that is exact for
    them; where some are not, as along a curve, it is fine and still exact for the others,
    if that can be had; or else one that loses little by taking boxes up and sheets down.
    """
    longest = max((side for bed in order.beds for side in bed[:2]), default=1)
    whole = {round(corner) for corner in corners if abs(corner - round(corner)) < _NEARLY}
    exact = max(1, gcd(*whole))
    coarsest = max(1, longest * 4 // (3 * MOST_CELLS))
    if all(abs(corner - round(corner)) < _NEARLY for corner in corners):
        coarsest = max(coarsest, exact)
    for cell in range(min(coarsest, exact), 0, -1):
        if cell * MOST_EXACT < longest:
            break
        if exact % cell == 0:
            return cell
    return _losing_least(order, -(-longest // MOST_CELLS), coarsest)


def _losing_least(order: Order, finest: int, coarsest: int) -> int:
    """Return the cell by which boxes grow and sheets shrink least, in all."""
    sides = [side for box in order.boxes for side in box[:2]]
    rooms = [side for bed in order.beds for side in bed[:2]]

    def loss(cell: int) -> tuple[int, int]:
        return sum(-side % cell for side in sides) + sum(side % cell for side in rooms), -cell

    return min(range(finest, max(finest, coarsest) + 1), key=loss)
