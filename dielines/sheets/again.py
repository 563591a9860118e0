"""A stock laid out again after a small change, where that can save anything at all."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from ..book.book import Book
from ..lengths import Length
from ..packing.bounds import dff_bound
from ..packing.order import Work
from ..workshop.workshop import Workshop
from .laying_out import stock_layout
from .layout import StockLayout
from .outline_bound import is_rectangle, least_price, rings_of
from .problem import Problem, problem_of
from .wanted import Wanted, stocks_of, wanted_from
from .way_of_cutting import By, Terms, terms_for

WORK = 40_000  #: steps for one stock of one changed book
WORK_ON_BOUND = 4_000  #: steps to prove that real outlines save nothing either


@dataclass(frozen=True)
class AsCut:
    """A book as it would be cut: composed, with the workshop, and the gap that is asked for."""

    book: Book
    workshop: Workshop
    wish: By
    gap: Length | None

    def terms(self, stock_name: str) -> Terms:
        """Return the terms on which the stock of that name is cut."""
        stock = next(s for s in stocks_of(self.book) if s.name == stock_name)
        return terms_for(stock, self.workshop, self.wish, self.gap)


def laid_out_again(changed: AsCut, old: StockLayout) -> StockLayout | None:
    """Return the layout of a stock of the changed book, *old* itself where that is still the best.

    An old layout is still right where every part has stayed within what it was, so that
    there are never more sheets than before. None where a part fits no sheet any more.
    """
    stock, terms = old.stock, changed.terms(old.stock.name)
    wanted = wanted_from(changed.book, stock)
    if terms == old.terms and [_shape(one) for one in wanted] == [_shape(one) for one in _all(old)]:
        return old
    problem = problem_of(wanted, stock, terms)
    if len(problem.too_large) > len(old.too_large):
        return None
    kept = _kept(wanted, terms, old)
    if kept is not None and not _can_cost_less(problem, terms, old):
        return kept
    new = stock_layout(wanted, stock, terms, lambda: Work(WORK))
    return kept if kept is not None and _is_dearer(new, kept) else new


def _all(layout: StockLayout) -> tuple[Wanted, ...]:
    return (*layout.wanted, *layout.too_large)


def _shape(one: Wanted) -> tuple[object, ...]:
    return one.size, one.count, one.quarters, one.may_turn, one.part.outline


def _can_cost_less(problem: Problem, terms: Terms, old: StockLayout) -> bool:
    """Return whether no bound forbids that *problem* costs less than *old*; the fast ones first."""
    order = problem.order
    if not order.boxes or [b.price for b in order.beds] != [b.price for b in old.order.beds]:
        return True
    price = old.plan.price(old.order.beds)
    if dff_bound(order) < price:
        return True
    rings = [rings_of(one) for one in problem.wanted]
    if terms.by is not By.MACHINE or all(map(is_rectangle, rings)):
        return False
    return least_price(problem, rings, price, Work(WORK_ON_BOUND)) < price


def _kept(wanted: Sequence[Wanted], terms: Terms, old: StockLayout) -> StockLayout | None:
    """Return the old layout if everything still lies as it lay: no more room taken, no less given."""
    before = {one.letter: one for one in _all(old)}
    room = old.terms.gap >= terms.gap and old.terms.reach.margin >= terms.reach.margin
    has_outlines = old.plan.runs != old.as_boxes.runs
    is_kept = room and all(
        one.letter in before
        and one.count <= before[one.letter].count
        and _is_within(one, before[one.letter], has_outlines)
        for one in wanted
    )
    return old if is_kept else None


def _is_within(one: Wanted, before: Wanted, has_outlines: bool) -> bool:
    """Return whether a part lies within what it was: the rectangle around it, or its outline."""
    if one.quarters != before.quarters or (before.may_turn and not one.may_turn):
        return False
    if any(a > b for a, b in zip(one.size, before.size, strict=True)):
        return False
    return not has_outlines or _covers(before, one)


def _covers(before: Wanted, one: Wanted) -> bool:
    """Return whether the outline of a part covers its new one, both from their lower left."""
    if one.part.outline == before.part.outline:
        return True
    import shapely

    old, new = (shapely.Polygon(rings[0], rings[1:]) for rings in (_laid(before), _laid(one)))
    return bool(old.buffer(1e-6).covers(new))


def _laid(one: Wanted) -> list[list[tuple[float, float]]]:
    rings = rings_of(one)
    left, low = (min(corner[axis] for corner in rings[0]) for axis in (0, 1))
    return [[(x - left, y - low) for x, y in ring] for ring in rings]


def _is_dearer(new: StockLayout, old: StockLayout) -> bool:
    return (cost(new) or 0, new.count) > (cost(old) or 0, old.count)


def cost(stock: StockLayout) -> Decimal | None:
    """Return what the sheets of a stock cost; None where the price of one is not known.

    What a person has already, unpriced, costs nothing.
    """
    total = Decimal(0)
    for sheet in stock.sheets:
        price = sheet.room.sheet.price
        if price is None and not sheet.room.sheet.have:
            return None
        total += sheet.times * (price or 0)
    return total
