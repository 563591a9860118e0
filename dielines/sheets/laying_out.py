"""All parts of a book, or of all its copies, laid out on sheets of their stocks."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

from ..book.book import Book
from ..lengths import Length
from ..packing.kits import solve
from ..packing.order import Order, Pattern, Plan, Work
from ..workshop.stock import Stock
from ..workshop.workshop import Workshop
from .layout import BookLayout, PlacedPart, SheetLayout, StockLayout
from .problem import Problem, problem_of
from .real_outlines import with_real_outlines
from .wanted import Wanted, stocks_of, wanted_from
from .way_of_cutting import By, Terms, terms_for

WORK = 300_000  #: steps for each stock
STAGES = 3  #: changes of direction in cutting by hand, before the last trims


def usual_work() -> Work:
    """Return the work that is spent on one stock where nobody says otherwise."""
    return Work(WORK)


def lay_out(
    book: Book,
    workshop: Workshop,
    wish: By,
    gap: Length | None = None,
    new_work: Callable[[], Work] = usual_work,
) -> BookLayout:
    """Return the sheets that all copies of *book* and their spares need.

    *gap* between parts takes the place of the workshop's; *new_work* returns the work
    to be spent on a stock, and once more where real outlines are tried.
    """
    stocks = [
        stock_layout(
            wanted_from(book, stock), stock, terms_for(stock, workshop, wish, gap), new_work
        )
        for stock in stocks_of(book)
    ]
    return BookLayout(wish, numbered(stocks))


def numbered(stocks: Sequence[StockLayout]) -> tuple[StockLayout, ...]:
    """Return *stocks* with their sheets numbered through from 1."""
    number, found = 0, []
    for stock in stocks:
        sheets = [replace(sheet, number=number + i) for i, sheet in enumerate(stock.sheets, 1)]
        number += len(sheets)
        found.append(replace(stock, sheets=tuple(sheets)))
    return tuple(found)


def stock_layout(
    wanted: Sequence[Wanted],
    stock: Stock,
    terms: Terms,
    new_work: Callable[[], Work],
) -> StockLayout:
    """Return the sheets that *wanted* needs of *stock*, numbered from 1."""
    problem = problem_of(wanted, stock, terms)
    plan = as_boxes = order_plan(problem.order, terms, new_work())
    if terms.by is By.MACHINE:
        plan = with_real_outlines(problem, plan, new_work)
    sheets = [
        _sheet(pattern, times, problem)
        for pattern, times in sorted(
            plan.runs, key=lambda run: _largest_first(run[0], problem.order)
        )
    ]
    return StockLayout(
        stock, terms, problem.scale, problem.wanted, problem.too_large, problem.rooms, problem.order,
        plan, as_boxes, tuple(replace(sheet, number=i) for i, sheet in enumerate(sheets, 1)),
    )  # fmt: skip


def order_plan(order: Order, terms: Terms, work: Work) -> Plan:
    """Return the plan of rectangles that are cut on *terms*."""
    if not order.boxes:
        return Plan((), 0)
    if terms.by.is_edge_to_edge:
        from ..packing.guillotine.method import guillotine_method

        return solve(order, guillotine_method(order, STAGES), work)
    from ..packing.free import free_method

    return solve(order, free_method(order), work)


def _largest_first(pattern: Pattern, order: Order) -> tuple[int, ...]:
    """Return a key that puts patterns with many large parts first."""
    kinds = sorted(range(len(order.boxes)), key=lambda kind: (-order.boxes[kind].area, kind))
    counts = pattern.counts(len(order.boxes))
    return (*(-counts[kind] for kind in kinds), pattern.bed)


def _sheet(pattern: Pattern, times: int, problem: Problem) -> SheetLayout:
    room = problem.rooms[pattern.bed]
    placed = [
        PlacedPart(
            letter=(one := problem.wanted[box.kind]).letter,
            title=one.title,
            role=one.role,
            part=one.part,
            x=room.margin + problem.scale.length(box.x),
            y=room.margin + problem.scale.length(box.y),
            quarters=(one.quarters + box.quarters) % 4,
        )
        for box in pattern.placed
    ]
    return SheetLayout(0, times, room, tuple(placed), pattern)
