"""The pricers for free placement, from cheap to exact."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from .exact_free import exact_pricer
from .guillotine.pricing import guillotine_pricer
from .order import Box, Order, Pattern, Priced, Pricer, Work

CELLS = 400  #: on the longer side of the largest sheet, where edge-to-edge cuts are looked for


def free_pricers(order: Order) -> tuple[Pricer, ...]:
    """Return the pricers to ask one after the other: patterns of edge-to-edge cuts, then any."""
    return (_edge_to_edge_pricer(order), exact_pricer(order))


def _edge_to_edge_pricer(order: Order) -> Pricer:
    """Return a pricer of patterns that could be cut from edge to edge, without any proof."""
    longest = max(max(bed.width, bed.height) for bed in order.beds)
    unit = -(-longest // CELLS)
    pricer = guillotine_pricer(coarse(order, unit))

    def price(prices: Sequence[int], limits: Sequence[int], bed: int, work: Work) -> Priced:
        found = pricer(prices, limits, bed, work)
        pattern = found.pattern and _fine(found.pattern, unit)
        return Priced(pattern, found.value, None)

    return price


def coarse(order: Order, unit: int) -> Order:
    """Return *order* in a larger unit: boxes rounded up, sheets rounded down.

    >>> from dielines.packing.order import Bed
    >>> coarse(Order((Box(7, 10),), (3,), (Bed(19, 20),)), 5).beds[0][:2]
    (3, 4)
    """
    boxes = tuple(
        Box(-(-box.width // unit), -(-box.height // unit), box.may_turn) for box in order.boxes
    )
    beds = tuple(
        bed._replace(width=bed.width // unit, height=bed.height // unit) for bed in order.beds
    )
    return Order(boxes, order.counts, beds)


def _fine(pattern: Pattern, unit: int) -> Pattern:
    """Return a pattern of the coarse order as one of the order itself, its cuts left out."""
    placed = tuple(box._replace(x=box.x * unit, y=box.y * unit) for box in pattern.placed)
    return replace(pattern, placed=placed, cuts=None)
