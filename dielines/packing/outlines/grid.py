"""How fine the grid of a sheet is: exact for every part if that can be had, or else safe."""

from __future__ import annotations

from collections.abc import Sequence
from math import gcd

from ..order import Order

#: Cells on the longer side of a sheet beyond which a grid is slow: about 20 kB a sheet.
MOST_CELLS = 400

#: Cells on the longer side up to which a grid that is exact is worth its time.
MOST_EXACT = 800

#: Units by which a corner may miss a whole number: floats are rounded.
_NEARLY = 1e-4


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
