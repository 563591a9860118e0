"""From prices of boxes to a price below which no plan can be, in exact numbers.

Where no pattern on a sheet is worth more than its price, all boxes together are
worth no more than any plan costs (duality of linear programmes). Where one is, all
prices are lowered alike; a sheet of which there are only so many may be worth more,
and what it is worth more is then taken off, as often as it is there.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from fractions import Fraction

from .order import Order

_REACH = 100_000  #: sums of prices up to this many shared units are looked at one by one


def proved_price(order: Order, prices: Sequence[int], at_most: Sequence[int]) -> int:
    """Return a price below which no plan can be.

    *prices* of the kinds are any whole numbers from 0; *at_most* is for each bed what
    no pattern on it, of boxes that are ordered, is worth more than.
    """
    worth = sum(price * count for price, count in zip(prices, order.counts, strict=True))
    best = max((_lowered(order, worth, at_most, by) for by in _factors(order, at_most)), default=0)
    return next_price(order, math.ceil(best))


def _factors(order: Order, at_most: Sequence[int]) -> Iterator[Fraction]:
    """Yield by what prices may be lowered so that one more kind of sheet is worth its price."""
    both = tuple(zip(order.beds, at_most, strict=True))
    fair = [Fraction(bed.price, most) for bed, most in both if most > 0]
    endless = [Fraction(bed.price, most) for bed, most in both if most > 0 and bed.at_most is None]
    for factor in fair:
        if all(factor <= other for other in endless):
            yield factor


def _lowered(order: Order, worth: int, at_most: Sequence[int], by: Fraction) -> Fraction:
    off = sum(
        (bed.at_most or 0) * max(Fraction(0), by * most - bed.price)
        for bed, most in zip(order.beds, at_most, strict=True)
    )
    return by * worth - off


def next_price(order: Order, price: int) -> int:
    """Return the least price of a number of sheets, of whatever kinds, that is not below *price*.

    >>> from dielines.packing.order import Bed
    >>> next_price(Order((), (), (Bed(9, 9, 60), Bed(9, 18, 100))), 170)
    180
    """
    units = sorted({bed.price for bed in order.beds if bed.price > 0})
    if price <= 0 or not units:
        return 0
    shared = math.gcd(*units)
    steps = -(-price // shared)
    if len(units) == 1 or steps > _REACH:
        return steps * shared
    return shared * _next_sum([unit // shared for unit in units], steps)


def _next_sum(units: Sequence[int], least: int) -> int:
    """Return the least sum of *units*, each any number of times, from *least* on."""
    reached = 1
    mask = (1 << (least + units[0] + 1)) - 1
    for unit in units:
        step = unit
        while step < least + units[0] + 1:
            reached |= reached << step & mask
            step *= 2
    higher = reached >> least
    return least + ((higher & -higher).bit_length() - 1)
