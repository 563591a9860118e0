"""Which part forces the last sheet of a stock, and by how much."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from ..lengths import Length, Unit
from ..packing.bounds import dff_bound
from ..packing.order import Box, Order, Work
from .changes import STEPS
from .laying_out import order_plan
from .layout import StockLayout
from .wanted import Wanted

WORK = 20_000  #: steps for one question
MOST_KINDS = 6  #: of the largest, that are looked at
MOST_STEPS = 32  #: by how many of the smallest steps a part is made smaller


@dataclass(frozen=True)
class Forcing:
    """A part without one of which a sheet less would do.

    *narrower* and *lower* are by how much every part of that kind would have to be
    smaller for the same; None where even MOST_STEPS of the smallest step do not help.
    """

    part: Wanted
    narrower: Length | None
    lower: Length | None


def forcing_part(stock: StockLayout, units: Unit) -> Forcing | None:
    """Return the largest part that forces the last sheet; None where no single one does.

    Parts are taken as the rectangles around them. Where real outlines save a sheet
    already, nothing is said.
    """
    order, price = stock.order, stock.plan.price(stock.order.beds)
    if stock.count < 2 or stock.saved or not order.boxes:
        return None
    for kind in _largest(order):
        if _is_cheaper(stock, _one_less(order, kind), price):
            ways = [_least_step(stock, kind, side, STEPS[units][0], price) for side in (0, 1)]
            one = stock.wanted[kind]
            return Forcing(one, *(reversed(ways) if one.quarters % 2 else ways))
    return None


def _largest(order: Order) -> list[int]:
    kinds = sorted(range(len(order.boxes)), key=lambda kind: (-order.boxes[kind].area, kind))
    return kinds[:MOST_KINDS]


def _one_less(order: Order, kind: int) -> Order:
    counts = (*order.counts[:kind], order.counts[kind] - 1, *order.counts[kind + 1 :])
    return replace(order, counts=counts)


def _least_step(
    stock: StockLayout, kind: int, side: int, step: Length, price: int
) -> Length | None:
    """Return by how much a side must shrink to save a sheet, in whole steps; None beyond MOST_STEPS."""
    least, most = 0, MOST_STEPS
    if not _saves(stock, kind, side, step * most, price):
        return None
    while most - least > 1:
        middle = (least + most) // 2
        if _saves(stock, kind, side, step * middle, price):
            most = middle
        else:
            least = middle
    return step * most


def _saves(stock: StockLayout, kind: int, side: int, by: Length, price: int) -> bool:
    """Return whether it costs less where a side is smaller *by* so much, rounded down to units."""
    return _is_cheaper(stock, _shrunk(stock.order, kind, side, stock.scale.down(by)), price)


def _shrunk(order: Order, kind: int, side: int, by: int) -> Order:
    box = order.boxes[kind]
    wide, high = box.width - (0 if side else by), box.height - (by if side else 0)
    changed = Box(max(wide, 1), max(high, 1), box.may_turn)
    return replace(order, boxes=(*order.boxes[:kind], changed, *order.boxes[kind + 1 :]))


def _is_cheaper(stock: StockLayout, order: Order, price: int) -> bool:
    """Return whether *order* costs less; the bound is asked first, which is fast."""
    if dff_bound(order) >= price:
        return False
    return order_plan(order, stock.terms, Work(WORK)).price(order.beds) < price


def forcing_parts(
    stocks: tuple[StockLayout, ...], units: Unit
) -> Iterator[tuple[StockLayout, Forcing]]:
    """Yield each stock with the part that forces its last sheet, where there is one."""
    for stock in stocks:
        forcing = forcing_part(stock, units)
        if forcing is not None:
            yield stock, forcing
