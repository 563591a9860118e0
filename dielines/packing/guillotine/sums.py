"""Where a cut can stand: sums of the sides of boxes."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import NamedTuple

#: Cuts in a row that are tried, at most; the time of a table grows with the cube of it.
MOST = 420

#: A coarse unit divides the longest side of a sheet into so many, or up to MOST.
LEAST = 280

#: Coarse units that are compared.
UNITS = 1000


class Sums(NamedTuple):
    """Sums of sides in rising order, 0 first; *are_all*: none was left out."""

    row: tuple[int, ...]
    are_all: bool


def sums(lengths: Iterable[tuple[int, int]], largest: int) -> tuple[int, ...]:
    """Return all sums of the lengths up to *largest*, 0 among them; each so often at most.

    >>> sums([(4, 2), (7, 9)], 16)
    (0, 4, 7, 8, 11, 14, 15)
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
    return tuple(found)


def cut_places(lengths: Sequence[tuple[int, int]], largest: int) -> Sums:
    """Return the sums at which cuts are tried: all, or where there are too many, of few boxes.

    With each sum of few boxes goes what it leaves of the whole, so that rows of twice
    as many boxes are still cut exactly.
    """
    found = sums(lengths, largest)
    if len(found) <= MOST:
        return Sums(found, True)
    chosen = {0: None, largest: None}
    level = [0]
    while len(chosen) < MOST:
        level = sorted({at + length for at in level for length, _ in lengths} - set(chosen))
        level = [at for at in level if at <= largest]
        if not level:
            break
        for at in level[: (MOST - len(chosen) + 1) // 2]:
            chosen[at] = chosen[largest - at] = None
    return Sums(tuple(sorted(chosen)), False)


def coarse_unit(sides: Sequence[int], longest: int) -> int:
    """Return the unit in which *sides*, rounded down, lose least; *longest* is some 300 units.

    >>> coarse_unit([25_000, 140_000], 297_000)
    1000
    """
    first = -(-longest // MOST)
    last = max(first, longest // LEAST)
    units = range(first, last + 1, 1 + (last - first) // UNITS)
    return min(units, key=lambda unit: (_loss(unit, sides), unit))


def _loss(unit: int, sides: Sequence[int]) -> int:
    """Return what rounding down takes off, in millionths of each side."""
    return sum(side % unit * 1_000_000 // side for side in sides)
