"""The pricers for free placement, from cheap to exact."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from .exact_free import exact_pricer
from .guillotine.pricing import guillotine_pricer
from .order import Order, Priced, Pricer, Work


def free_pricers(order: Order) -> tuple[Pricer, ...]:
    """Return the pricers to ask one after the other: patterns of edge-to-edge cuts, then any."""
    return (_unproved(guillotine_pricer(order)), exact_pricer(order))


def _unproved(pricer: Pricer) -> Pricer:
    """Return *pricer* without its proof and its cuts: these hold for cuts from edge to edge."""

    def price(prices: Sequence[int], limits: Sequence[int], bed: int, work: Work) -> Priced:
        found = pricer(prices, limits, bed, work)
        pattern = found.pattern and replace(found.pattern, cuts=None)
        return Priced(pattern, found.value, None)

    return price
