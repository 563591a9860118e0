"""What has to be there to make a book, or a class of it, and what it costs."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from math import ceil

from ..book.book import Book
from ..lengths import MM_PER_UNIT, Length, Unit, show
from ..taping.strips import TapePlan, WidthTotal
from ..taping.totals import roll_of
from .layout import BookLayout, StockLayout
from .rooms import Room
from .sheets_text import sheet_words

CENTS = Decimal("0.01")


@dataclass(frozen=True)
class Need:
    """Sheets of one size of one stock, or rolls of one width of tape.

    *count* are those that must be there, None where nobody said how long a roll is.
    *used* is how much of them is used up: all of a sheet, a share of a roll. *each* is
    the price of one, None where nobody said. What *is_at_hand* need not be bought.
    """

    what: str
    unit: str  #: "sheet" or "roll"
    count: int | None
    used: Fraction | None
    each: Decimal | None
    is_at_hand: bool = False
    length: Length | None = None  #: of all strips of tape

    @property
    def price(self) -> Decimal | None:
        """The price of all that must be there."""
        return None if self.count is None or self.each is None else self.count * self.each

    @property
    def price_of_used(self) -> Decimal | None:
        """The price of what is used up, in hundredths."""
        if self.used is None or self.each is None:
            return None
        return (Decimal(self.used.numerator) * self.each / self.used.denominator).quantize(CENTS)


@dataclass(frozen=True)
class Shopping:
    """All needs of so many *copies*; *left_out* are stocks with the letters of what fits no sheet."""

    needs: tuple[Need, ...]
    copies: int
    currency: str
    left_out: tuple[tuple[str, tuple[str, ...]], ...] = ()

    @property
    def unpriced(self) -> tuple[Need, ...]:
        """What has no price, so that no sum counts it."""
        return tuple(need for need in self.needs if need.price is None)

    @property
    def price(self) -> Decimal:
        """The price of all that has one."""
        return _sum(need.price for need in self.needs)

    @property
    def price_of_used(self) -> Decimal:
        """The price of what is used up."""
        return _sum(need.price_of_used for need in self.needs)

    @property
    def price_of_a_copy(self) -> Decimal:
        """The price of what one copy uses up, in hundredths."""
        return (self.price_of_used / self.copies).quantize(CENTS)


def shopping_for(book: Book, layout: BookLayout, plan: TapePlan, currency: str = "") -> Shopping:
    """Return what all copies of *book* need: the sheets of *layout*, the rolls of *plan*."""
    sheets = (need for stock in layout.stocks for need in _sheets(stock, book))
    rolls = (_roll_need(total, book) for total in plan.totals)
    left_out = tuple(
        (stock.stock.name, tuple(one.letter for one in stock.too_large))
        for stock in layout.stocks
        if stock.too_large
    )
    return Shopping((*sheets, *rolls), book.request.copies, currency, left_out)


def _sheets(stock: StockLayout, book: Book) -> Iterator[Need]:
    counted: dict[Room, int] = {}
    for sheet in stock.sheets:
        counted[sheet.room] = counted.get(sheet.room, 0) + sheet.times
    for room, count in counted.items():
        size = sheet_words(room.sheet.size, book.units)
        what = f"{stock.stock.name}, {size}{', beyond what you have' if room.is_missing else ''}"
        each = Decimal(0) if room.sheet.have and room.sheet.price is None else room.sheet.price
        yield Need(what, "sheet", count, Fraction(count), each, bool(room.sheet.have))


def _roll_need(total: WidthTotal, book: Book) -> Need:
    roll = roll_of(total.width, book.tape)
    long = f" x {roll_words(roll.length, book.units)}" if roll.length else ""
    what = f"{book.tape.name}, {show(total.width, book.units)}{long}"
    used = total.length / roll.length if roll.length else None
    return Need(what, "roll", total.rolls, used, roll.price, length=total.length)


def roll_words(length: Length, units: Unit) -> str:
    """Return the length of a roll as rolls are sold: in metres, or in yards where they are whole.

    >>> from ..lengths import inches
    >>> roll_words(inches(900), "in"), roll_words(inches(900), "mm"), roll_words(inches(100), "in")
    ('25 yd', '22.86 m', '100 in')
    """
    if units == "mm":
        return f"{float(length.mm) / 1000:.2f}".rstrip("0").rstrip(".") + " m"
    yards = length.mm / (MM_PER_UNIT["in"] * 36)
    return f"{yards} yd" if yards.denominator == 1 else show(length, units)


def tape_words(length: Length, units: Unit) -> str:
    """Return how much tape that is, in metres or yards, rounded up.

    >>> from ..lengths import inches
    >>> tape_words(inches(100), "in"), tape_words(inches(100), "mm")
    ('2.78 yd', '2.54 m')
    """
    unit, word = (MM_PER_UNIT["in"] * 36, "yd") if units == "in" else (Fraction(1000), "m")
    return f"{ceil(length.mm / unit * 100) / 100:.2f} {word}"


def _sum(prices: Iterable[Decimal | None]) -> Decimal:
    return sum((price for price in prices if price is not None), Decimal(0))
