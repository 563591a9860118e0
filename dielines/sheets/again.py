"""A stock laid out again after a small change, where that can save anything at all."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from ..book.book import Book
from ..lengths import Length
from ..packing.bounds import dff_bound
from ..packing.order import Plan, Work
from ..paths import signed_area
from ..workshop.workshop import Workshop
from .laying_out import order_plan
from .layout import StockLayout
from .outline_bound import least_price, rings_of
from .problem import Problem, problem_of
from .real_outlines import with_real_outlines
from .rooms import Room
from .wanted import Wanted, stocks_of, wanted_from
from .way_of_cutting import By, Terms, terms_for

WORK = 40_000  #: steps for one stock of one changed book
WORK_ON_OUTLINES = 6_000  #: steps for its real outlines, and for a bound of these
MOST_FILLED = (
    0.85  #: of its sheets that real outlines can be hoped to fill (measured on the samples)
)


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


@dataclass(frozen=True)
class Need:
    """How many sheets of a stock are needed; *cost* is None where the price of one is not known.

    What a person has already, unpriced, costs nothing.
    """

    count: int
    cost: Decimal | None

    @property
    def rank(self) -> tuple[Decimal, int]:
        """Its place among others of the same stock, the least first."""
        return self.cost or Decimal(0), self.count


def need_of(rooms: Sequence[Room], plan: Plan) -> Need:
    """Return what *plan* needs of the sheets of which *rooms* are what can be cut."""
    prices = [
        (Decimal(0) if sheet.price is None and sheet.have else sheet.price, times)
        for sheet, times in ((rooms[pattern.bed].sheet, times) for pattern, times in plan.runs)
    ]
    told = [price * times for price, times in prices if price is not None]
    cost = sum(told, Decimal(0)) if len(told) == len(prices) else None
    return Need(plan.sheets(), cost)


def needed_again(changed: AsCut, old: StockLayout) -> Need | None:
    """Return what the changed book needs of a stock of which it needed *old*.

    An old layout is still right where every part has stayed within what it was, so that
    there are never more sheets than before. None where one more part fits no sheet.
    """
    stock, terms = old.stock, changed.terms(old.stock.name)
    wanted, before = wanted_from(changed.book, stock), need_of(old.rooms, old.plan)
    if terms == old.terms and [_shape(one) for one in wanted] == [_shape(one) for one in _all(old)]:
        return before
    problem = problem_of(wanted, stock, terms)
    if len(problem.too_large) > len(old.too_large):
        return None
    is_kept = _still_holds(wanted, terms, old)
    if is_kept and not _can_cost_less(problem, terms, old):
        return before
    new = _new_need(problem, terms, old)
    return before if is_kept and before.rank < new.rank else new


def _new_need(problem: Problem, terms: Terms, old: StockLayout) -> Need:
    plan = order_plan(problem.order, terms, Work(WORK))
    need = need_of(problem.rooms, plan)
    is_enough = need.rank < need_of(old.rooms, old.plan).rank and not old.saved
    if not is_enough and _is_worth_outlines(problem, terms, old):
        plan = with_real_outlines(problem, plan, lambda: Work(WORK_ON_OUTLINES))
    return need_of(problem.rooms, plan)


def _is_worth_outlines(problem: Problem, terms: Terms, old: StockLayout) -> bool:
    """Return whether real outlines, which take most of the time, can be hoped to save a sheet.

    They do today, or no bound is against it and they would leave a sheet empty enough.
    """
    if terms.by is not By.MACHINE or not problem.order.beds:
        return False
    is_open = old.plan.bound < old.plan.price(old.order.beds)
    return bool(old.saved) or (is_open and _sheets_of_area(problem) < MOST_FILLED * (old.count - 1))


def _sheets_of_area(problem: Problem) -> float:
    """Return how many of the largest sheets the outlines would cover."""
    covered = sum(
        one.count * abs(sum(float(signed_area(path)) for path in one.part.outline))
        for one in problem.wanted
    )
    return covered / max(float(room.size.across.mm * room.size.up.mm) for room in problem.rooms)


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
    if not _is_worth_outlines(problem, terms, old):
        return False
    rings = [rings_of(one) for one in problem.wanted]
    return least_price(problem, rings, price, Work(WORK_ON_OUTLINES)) < price


def _still_holds(wanted: Sequence[Wanted], terms: Terms, old: StockLayout) -> bool:
    """Return whether everything can lie where it lay: no more room is taken, none is lost."""
    before = {one.letter: one for one in _all(old)}
    room = old.terms.gap >= terms.gap and old.terms.reach.margin >= terms.reach.margin
    return room and all(
        one.letter in before
        and one.count <= before[one.letter].count
        and _is_within(one, before[one.letter], old.plan.runs != old.as_boxes.runs)
        for one in wanted
    )


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
