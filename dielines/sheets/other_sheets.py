"""The same book on sheets of another usual size: how many, and how much paper."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from ..book.sheets_fit import sheet_alone
from ..lengths import Unit
from ..packing.bounds import dff_bound
from ..packing.order import Work
from ..workshop.shipped import shipped_document
from ..workshop.sizes import Size, parse_size
from ..workshop.stock import StockKind
from .again import WORK, need_of
from .laying_out import stock_layout
from .layout import BookLayout, StockLayout
from .problem import problem_of

LEAST_LESS = Fraction(1, 50)  #: of the paper, which another size must save to be worth a word


@dataclass(frozen=True)
class OtherSheet:
    """What a stock would need of sheets of another size alone, whose price nobody told."""

    stock: StockLayout
    size: Size
    count: int

    @property
    def paper_saved(self) -> Fraction:
        """The share of the paper bought that would not be needed."""
        return 1 - _area(self.size) * self.count / _paper(self.stock)

    @property
    def pays_below(self) -> Decimal | None:
        """The price of one sheet below which it pays; None where nobody told what the others cost."""
        whole = need_of(self.stock.rooms, self.stock.plan).cost
        return None if whole is None else whole / self.count


def other_sheets(layout: BookLayout, units: Unit) -> tuple[OtherSheet, ...]:
    """Return for each paper the usual size of sheet that would save most paper, if one saves any.

    Grain and print are taken to run as on the first sheet of the paper. Where a person
    uses up what is there, nothing is said.
    """
    found = []
    for stock in layout.stocks:
        best = max(_others(stock, units), key=lambda other: other.paper_saved, default=None)
        if best is not None and best.paper_saved >= LEAST_LESS:
            found.append(best)
    return tuple(found)


def _others(stock: StockLayout, units: Unit) -> Iterator[OtherSheet]:
    sheets = stock.stock.sheets
    is_asked = stock.stock.kind is StockKind.PAPER and stock.sheets and not stock.too_large
    if not is_asked or any(sheet.have for sheet in sheets):
        return
    known = {size for sheet in sheets for size in (sheet.size, sheet.size.turned)}
    for text in shipped_document("sheets.toml").data["larger"][units]:
        size = parse_size(text, units)
        if size not in known:
            yield from _on_sheets_of(size, stock)


def _on_sheets_of(size: Size, old: StockLayout) -> Iterator[OtherSheet]:
    """Yield what the stock needs of that size; nothing where a part does not fit, or no bound lets it save."""
    stock = sheet_alone(old.stock, size)
    problem = problem_of(old.wanted, stock, old.terms)
    if problem.too_large:
        return
    prices = [bed.price for bed in problem.order.beds]
    least = -(-dff_bound(problem.order) // max(prices))
    if least and OtherSheet(old, size, least).paper_saved >= LEAST_LESS:
        new = stock_layout(old.wanted, stock, old.terms, lambda: Work(WORK))
        yield OtherSheet(old, size, new.count)


def _area(size: Size) -> Fraction:
    return size.across.mm * size.up.mm


def _paper(stock: StockLayout) -> Fraction:
    used = (_area(sheet.room.sheet.size) * sheet.times for sheet in stock.sheets)
    return sum(used, Fraction(0))
