"""Parts on sheets: the nouns of this room."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal

from ..lengths import Length
from ..packing.order import Order, Pattern, Plan
from ..part import Part
from ..workshop.stock import Stock
from .rooms import Room
from .scale import Scale
from .wanted import Wanted
from .way_of_cutting import By, Terms


@dataclass(frozen=True)
class PlacedPart:
    """A part on a sheet: its lower left corner, and quarter turns counter-clockwise."""

    letter: str
    title: str
    role: str  #: of its stock in the book
    part: Part
    x: Length
    y: Length
    quarters: int


@dataclass(frozen=True)
class SheetLayout:
    """One sheet with its parts, cut *times* times alike; *number* counts through the book."""

    number: int
    times: int
    room: Room
    placed: tuple[PlacedPart, ...]
    pattern: Pattern

    @property
    def used(self) -> float:
        """The share of the sheet that its parts cover, by the rectangles around them."""
        whole = self.room.sheet.size.across.mm * self.room.sheet.size.up.mm
        covered = sum(one.part.width * one.part.height for one in self.placed)
        return float(covered) / float(whole)


@dataclass(frozen=True)
class StockLayout:
    """All sheets of one stock.

    *order* and *plan* are the problem and its answer in whole units of *scale*, gap
    included; *wanted* are its kinds of box in order. *too_large* fit no sheet.
    """

    stock: Stock
    terms: Terms
    scale: Scale
    wanted: tuple[Wanted, ...]
    too_large: tuple[Wanted, ...]
    rooms: tuple[Room, ...]
    order: Order
    plan: Plan
    as_boxes: Plan  #: the plan of the rectangles around the parts, with its own bound
    sheets: tuple[SheetLayout, ...]

    @property
    def count(self) -> int:
        """How many sheets are cut."""
        return sum(sheet.times for sheet in self.sheets)

    @property
    def missing(self) -> int:
        """How many of them the person does not have, where only so many are there."""
        return sum(sheet.times for sheet in self.sheets if sheet.room.is_missing)

    @property
    def cost(self) -> Decimal | None:
        """What they cost; None where the price of one is not known.

        What a person has already, unpriced, costs nothing.
        """
        total = Decimal(0)
        for sheet in self.sheets:
            price = sheet.room.sheet.price
            if price is None and not sheet.room.sheet.have:
                return None
            total += sheet.times * (price or 0)
        return total

    @property
    def saved(self) -> int:
        """How many sheets real outlines save beside the rectangles around them."""
        return max(self.as_boxes.sheets() - self.plan.sheets(), 0)


@dataclass(frozen=True)
class BookLayout:
    """The sheets of a whole book, or of all its copies."""

    wish: By
    stocks: tuple[StockLayout, ...]

    def sheets(self) -> Iterator[tuple[StockLayout, SheetLayout]]:
        """Yield every different sheet with its stock, in the order of their numbers."""
        for stock in self.stocks:
            for sheet in stock.sheets:
                yield stock, sheet
