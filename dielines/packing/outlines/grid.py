"""How fine the grid of a sheet is: exact for every part if that can be had, or else safe."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction
from math import gcd, lcm

#: Cells on the longer side of a sheet beyond which a grid is slow: about 20 kB a sheet.
MOST_CELLS = 400


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
