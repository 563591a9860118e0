"""Looking for the pattern that is worth most at given prices, with fillers: fast, no proof."""

from __future__ import annotations

from collections.abc import Sequence

from .first_answer import listed
from .order import Filler, Order, Pattern, Priced, Pricer, Work


def value_of(pattern: Pattern | None, prices: Sequence[int]) -> int:
    """Return what the boxes on a sheet are worth."""
    return sum(prices[box.kind] for box in pattern.placed) if pattern else 0


def filler_pricer(order: Order, fillers: Sequence[Filler]) -> Pricer:
    """Return a pricer that gives the fillers the boxes by price, in several orders."""

    def price(prices: Sequence[int], limits: Sequence[int], bed: int, work: Work) -> Priced:
        best, value = None, 0
        for kinds in _orders(order, prices):
            boxes = listed(order, bed, limits, kinds)
            for filler in fillers if boxes else ():
                found = filler(boxes, bed, work)
                pattern = Pattern(bed, found.placed, found.cuts)
                worth = value_of(pattern, prices)
                if worth > value:
                    best, value = pattern, worth
                if work.is_over:
                    return Priced(best, value, None)
        return Priced(best, value, None)

    return price


def _orders(order: Order, prices: Sequence[int]) -> tuple[list[int], ...]:
    """Return the kinds: dearest for their area first, dearest first, largest first, longest first.

    Kinds that cost nothing come last in each: they ride free.
    """
    boxes = order.boxes
    dear = [kind for kind in range(len(boxes)) if prices[kind] > 0]
    free = sorted(set(range(len(boxes))) - set(dear), key=lambda kind: (-boxes[kind].area, kind))
    keys = (
        lambda kind: (-prices[kind] * 1000 // boxes[kind].area, kind),
        lambda kind: (-prices[kind], kind),
        lambda kind: (-boxes[kind].area, kind),
        lambda kind: (-max(boxes[kind][:2]), kind),
    )
    return tuple([*sorted(dear, key=key), *free] for key in keys)
