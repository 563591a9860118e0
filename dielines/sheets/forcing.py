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
MOST_STEPS = 16  #: by how many of the smallest steps a part is made smaller


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
            step = stock.scale.up(STEPS[units][0])
            ways = [_least_step(stock, kind, side, step, price) for side in (0, 1)]
            told = [None if way is None else stock.scale.length(way) for way in ways]
            one = stock.wanted[kind]
            return Forcing(one, *(reversed(told) if one.quarters % 2 else told))
    return None


def _largest(order: Order) -> list[int]:
    kinds = sorted(range(len(order.boxes)), key=lambda kind: (-order.boxes[kind].area, kind))
    return kinds[:MOST_KINDS]


def _one_less(order: Order, kind: int) -> Order:
    counts = (*order.counts[:kind], order.counts[kind] - 1, *order.counts[kind + 1 :])
    return replace(order, counts=counts)


def _least_step(stock: StockLayout, kind: int, side: int, step: int, price: int) -> int | None:
    """Return the fewest units by which a side must shrink to save a sheet, in whole steps."""
    if not _is_cheaper(stock, _shrunk(stock.order, kind, side, step * MOST_STEPS), price):
        return None
    least, most = 0, MOST_STEPS
    while most - least > 1:
        middle = (least + most) // 2
        saves = _is_cheaper(stock, _shrunk(stock.order, kind, side, step * middle), price)
        least, most = (least, middle) if saves else (middle, most)
    return step * most


def _shrunk(order: Order, kind: int, side: int, by: int) -> Order:
    box = order.boxes[kind]
    wide, high = box.width - (0 if side else by), box.height - (by if side else 0)
    changed = Box(max(wide, 1), max(high, 1), box.may_turn)
    return replace(order, boxes=(*order.boxes[:kind], changed, *order.boxes[kind + 1 :]))


def _is_cheaper(stock: StockLayout, order: Order, price: int) -> bool:
    """Return whether *order* costs less; the bound is asked first, which is fast."""
    if dff_bound(order) >= price:
        return False
    return order_plan(order, stock.terms, Work(WORK), ()).price(order.beds) < price


def forcing_parts(
    stocks: tuple[StockLayout, ...], units: Unit
) -> Iterator[tuple[StockLayout, Forcing]]:
    """Yield each stock with the part that forces its last sheet, where there is one."""
    for stock in stocks:
        forcing = forcing_part(stock, units)
        if forcing is not None:
            yield stock, forcing
