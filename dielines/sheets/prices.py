"""The price of each room, as whole numbers: money where all is priced, else sheets."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from ..packing.order import Bed
from .rooms import Room

PLACES = 4  #: decimals of a price that count
#: A sheet counts for so much where not all are priced, and the largest a little more than
#: the smallest, so that of two that would do the smaller is taken.
COUNTED, LARGER = 1000, 9
HAD = 1  #: for what a person has already: next to nothing, but few are better than many
MOST_SUMS = 2_000_000  #: sums of prices up to this are looked at, in the unit that all prices share
DEAR = 1000  #: times the dearest: a sheet that is not there, taken only when it must be


@dataclass(frozen=True)
class Prices:
    """What each room costs; *is_money*: in steps of the last of PLACES decimals of a price."""

    of_rooms: tuple[int, ...]
    is_money: bool


def prices_of(rooms: Sequence[Room]) -> Prices:
    """Return the price of each of *rooms*, those that are missing last.

    What a person has already, unpriced, costs nothing; what is missing costs more than
    all else, so that it is taken only where it must be.
    """
    owned = [room for room in rooms if not room.is_missing]
    if len(owned) < len(rooms):
        had = prices_of(owned)
        dear = DEAR * max(1, *had.of_rooms)
        return Prices((*had.of_rooms, *[dear] * (len(rooms) - len(owned))), had.is_money)
    told = [_told(room) for room in rooms]
    if all(price is not None for price in told) and any(told):
        scaled = [max(int((price or Decimal(0)).scaleb(PLACES)), HAD) for price in told]
        return Prices(tuple(scaled), is_money=True)
    areas = [room.sheet.size.across.mm * room.sheet.size.up.mm for room in rooms]
    if len(set(areas)) <= 1 and not any(room.sheet.have for room in rooms):
        return Prices((1,) * len(rooms), is_money=False)
    most = max(areas)
    counted = [
        HAD if room.sheet.have else COUNTED + int(LARGER * area / most)
        for room, area in zip(rooms, areas, strict=True)
    ]
    return Prices(tuple(counted), is_money=False)


def _told(room: Room) -> Decimal | None:
    if room.sheet.price is None and room.sheet.have:
        return Decimal(0)
    return room.sheet.price


def next_cost(beds: Sequence[Bed], least: int) -> int:
    """Return the least sum of prices from *least* on, of no more sheets of each kind than there are.

    *least* itself where no sum was found, or there are too many to look at.

    >>> next_cost([Bed(9, 9, 1, at_most=2), Bed(9, 9, 129)], 43)
    129
    """
    shared = math.gcd(*(bed.price for bed in beds))
    if shared <= 0 or least <= 0:
        return least
    first = -(-least // shared)
    end = first + max(bed.price for bed in beds) // shared
    if end > MOST_SUMS:
        return least
    higher = _sums(beds, shared, end) >> first
    return shared * (first + (higher & -higher).bit_length() - 1) if higher else least


def _sums(beds: Sequence[Bed], shared: int, end: int) -> int:
    """Return a number whose bits tell which sums of prices up to *end* there are."""
    mask, reached = (1 << (end + 1)) - 1, 1
    for bed in beds:
        unit = bed.price // shared
        left = end // unit if bed.at_most is None else min(bed.at_most, end // unit)
        step = 1
        while left > 0:
            taken = min(step, left)
            reached |= reached << taken * unit & mask
            left, step = left - taken, 2 * step
    return reached
