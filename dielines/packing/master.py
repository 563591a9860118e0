"""The linear programme over patterns: which to cut how often, and what each box costs so.

After Gilmore and Gomory, "A linear programming approach to the cutting-stock
problem" (1961), with a row for each kind of sheet of which there are only so many.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple

from .order import Order, Pattern, Work
from .programmes import Programme, solved

if TYPE_CHECKING:
    from .programmes import Matrix

#: A box's price in whole numbers is this many times its share of the dearest sheet.
#: It is a multiple of all numbers up to 16, so that halves, thirds and sevenths are exact.
SCALE = 720720
_HAIR = SCALE // 50_000  #: less is no gain
_ALMOST = 1e-4  #: so near to a whole number a price is taken for it; else it is rounded up


class Column(NamedTuple):
    """How many of each kind come with a sheet, whether or not it is known how they lie."""

    bed: int
    counts: tuple[int, ...]


def columns_of(order: Order, patterns: Sequence[Pattern]) -> list[Column]:
    """Return what the linear programme needs to know of patterns."""
    kinds = len(order.boxes)
    return [Column(pattern.bed, pattern.counts(kinds)) for pattern in patterns]


@dataclass(frozen=True)
class Prices:
    """The answer of the linear programme.

    *shares*: how often each column is cut. *boxes*: what a box of each kind costs, and
    *rents*: what one more of each kind of sheet would save, as whole numbers of 1 / SCALE
    of the dearest sheet.
    """

    value: float  #: in prices of sheets
    shares: tuple[float, ...]
    boxes: tuple[int, ...]
    rents: tuple[int, ...]


def dearest(order: Order) -> int:
    """Return the price of the dearest sheet, at least 1."""
    return max(1, *(bed.price for bed in order.beds))


def cost(order: Order, bed: int) -> int:
    """Return the price of a sheet in the whole numbers in which boxes are priced, rounded up."""
    return -(-order.beds[bed].price * SCALE // dearest(order))


def is_better(value: int, boxes: int, fair: int) -> bool:
    """Return whether a sheet with so many boxes is worth more than *fair*, its price and rent.

    The price of each box has been rounded up by as much as 1, which is no gain.
    """
    return value - boxes > fair + _HAIR


def limited(order: Order) -> tuple[int, ...]:
    """Return the kinds of sheet of which there are only so many."""
    return tuple(number for number, bed in enumerate(order.beds) if bed.at_most is not None)


def rows(order: Order, columns: Sequence[Column]) -> tuple[Matrix, list[float]]:
    """Return matrix and right side of what must hold, each row at most its right side."""
    import numpy as np

    kinds = len(order.boxes)
    matrix = np.zeros((kinds + len(limited(order)), len(columns)))
    for place, column in enumerate(columns):
        matrix[:kinds, place] = [-count for count in column.counts]
        for row, bed in enumerate(limited(order)):
            matrix[kinds + row, place] = column.bed == bed
    there = [float(order.beds[bed].at_most or 0) for bed in limited(order)]
    return matrix, [*(-float(count) for count in order.counts), *there]


def priced(order: Order, columns: Sequence[Column], work: Work) -> Prices:
    """Return the best mixture of *columns*, and prices; they must cover the order."""
    top = dearest(order)
    costs = [order.beds[column.bed].price / top for column in columns]
    found = solved(Programme(costs, *rows(order, columns)), work)
    kinds = len(order.boxes)
    duals = [whole(saving) for saving in found.savings]
    rents = dict(zip(limited(order), duals[kinds:], strict=True))
    return Prices(
        found.cost * top,
        found.numbers,
        tuple(duals[:kinds]),
        tuple(rents.get(bed, 0) for bed in range(len(order.beds))),
    )


def whole(price: float) -> int:
    """Return *price* in whole numbers: rounded up, but for what the solver got wrong by a hair.

    >>> whole(1 / 3), whole(0.1 + 0.2), whole(1 / 17)
    (240240, 216216, 42396)
    """
    scaled = max(0.0, price) * SCALE
    return round(scaled) if abs(scaled - round(scaled)) < _ALMOST else math.ceil(scaled)
