"""A stock: paper, board, reinforcing sheet or covering, as it lies in the cupboard."""

from __future__ import annotations

from dataclasses import dataclass, replace
from decimal import Decimal
from enum import Enum
from fractions import Fraction

from ..lengths import Length, millimetres
from .sizes import Size


class StockKind(Enum):
    """What a stock is; the value is its table in the workshop file."""

    PAPER = "papers"
    BOARD = "boards"
    REINFORCING = "reinforcing"
    COVERING = "coverings"


class Grain(Enum):
    """Along which way of a sheet, lying as its size is written, the grain runs."""

    UP = "up"
    ACROSS = "across"
    NONE = "none"


class Printed(Enum):
    """Which sides bear a print or a colour that the other lacks."""

    NONE = "none"
    ONE = "one side"
    BOTH = "both sides"


#: Thinnest and thickest of each kind, to catch a slip of the unit. Boards: binder's board of
#: 0.030 to 0.300 in (Etherington & Roberts), and thinner chipboard; the rest from memory.
PLAUSIBLE: dict[StockKind, tuple[Length, Length]] = {
    StockKind.PAPER: (millimetres("0.03"), millimetres("1.2")),
    StockKind.BOARD: (millimetres("0.3"), millimetres("8")),
    StockKind.REINFORCING: (millimetres("0.02"), millimetres("1.2")),
    StockKind.COVERING: (millimetres("0.05"), millimetres("2.5")),
}


@dataclass(frozen=True, slots=True)
class Sheet:
    """A size in which a stock is sold, its grain, and the price of one sheet.

    *have* is how many there are, where no more can be had: offcuts, sheets already
    started, the last of a pack.
    """

    size: Size
    grain: Grain
    price: Decimal | None = None
    have: int | None = None

    @property
    def turned(self) -> Sheet:
        """The same sheet, turned by a right angle on the table."""
        other = {Grain.UP: Grain.ACROSS, Grain.ACROSS: Grain.UP, Grain.NONE: Grain.NONE}
        return replace(self, size=self.size.turned, grain=other[self.grain])


@dataclass(frozen=True, slots=True)
class Stock:
    """What a part is cut from.

    *notes* say what of it was not measured but taken from typical values.
    """

    name: str
    kind: StockKind
    caliper: Length
    caliper_is_typical: bool
    grammage_gsm: Fraction | None
    sheets: tuple[Sheet, ...]
    printed: Printed
    is_one_way_up: bool  #: its print has a top, so that no part of it may be turned
    roles: tuple[str, ...]
    notes: tuple[str, ...] = ()
    is_striped: bool = False  #: its print may be turned upside down, but not sideways

    @property
    def keeps_upright(self) -> bool:
        """Whether its print forbids to turn a part of it sideways."""
        return self.is_one_way_up or self.is_striped

    @property
    def is_own_mirror_image(self) -> bool:
        """Whether a part of it may be turned over to serve as its mirror image."""
        return self.printed is Printed.NONE


def caliper_words(caliper: Length) -> str:
    """Return a thickness as people compare it: in mm to a thousandth.

    >>> from dielines.lengths import caliper_points
    >>> caliper_words(caliper_points("9 1/2"))
    '0.241 mm'
    """
    return f"{float(caliper.mm):.3f}".rstrip("0").rstrip(".") + " mm"
