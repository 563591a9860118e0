"""Whether a part fits a sheet of its stock, lying with the grain, and by how much it does not."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

from ..lengths import ZERO, Length, Unit
from .reach import Reach
from .shipped import shipped_document
from .sizes import Size, parse_size
from .stock import Grain, Sheet, Stock

#: How the grain runs in a part as it is drawn; free when it does not matter.
PartGrain = Literal["up", "across", "free"]


@dataclass(frozen=True, slots=True)
class Fit:
    """How a part lies on one sheet, in the best way that grain and print allow.

    *short_across* and *short_up* are by how much the part, in its own
    directions, is larger than what can be cut; both are zero when it fits.
    """

    sheet: Sheet
    is_turned: bool  #: the part lies turned by a right angle on the sheet as its size is written
    short_across: Length
    short_up: Length
    follows_grain: bool  #: False only when a print with a top forbids to turn the part

    @property
    def is_large_enough(self) -> bool:
        """Whether the part fits, the grain left aside."""
        return not (self.short_across or self.short_up)

    @property
    def is_good(self) -> bool:
        """Whether the part fits and its grain runs as it should."""
        return self.is_large_enough and self.follows_grain


def fits(size: Size, grain: PartGrain, stock: Stock, reach: Reach) -> tuple[Fit, ...]:
    """Return the verdict for each sheet of *stock* on a part of that size, drawn upright.

    A part whose grain matters lies so that its grain runs along the sheet's; on
    a stock without grain, or when it is free, both ways are tried. A print that
    has a top, or stripes, allows no turning sideways.
    """
    return tuple(fit_on(size, grain, sheet, stock.keeps_upright, reach) for sheet in stock.sheets)


def fit_on(size: Size, grain: PartGrain, sheet: Sheet, keeps_upright: bool, reach: Reach) -> Fit:
    """Return the verdict for one sheet."""
    return min(_ways(size, grain, sheet, keeps_upright, reach), key=_by_what_is_missing)


def _ways(
    size: Size, grain: PartGrain, sheet: Sheet, keeps_upright: bool, reach: Reach
) -> Iterator[Fit]:
    """Yield the verdict for each way in which the part may lie, the unturned one first.

    A machine takes a sheet either way round, so its area is tried both ways.
    """
    as_written = _runs_along(grain, sheet)
    if as_written or keeps_upright:
        for room in _rooms(sheet, reach):
            yield Fit(sheet, False, *_missing(size, room), follows_grain=as_written)
    if _runs_along(grain, sheet.turned) and not keeps_upright:
        for room in _rooms(sheet.turned, reach):
            yield Fit(sheet, True, *_missing(size, room), follows_grain=True)


def _runs_along(grain: PartGrain, sheet: Sheet) -> bool:
    return grain == "free" or sheet.grain is Grain.NONE or grain == sheet.grain.value


def _rooms(sheet: Sheet, reach: Reach) -> tuple[Size, Size]:
    """Return what can be cut of the sheet, fed in as it lies and turned."""
    return reach.within(sheet), reach.within(sheet.turned).turned


def _missing(size: Size, room: Size) -> tuple[Length, Length]:
    return max(size.across - room.across, ZERO), max(size.up - room.up, ZERO)


def _by_what_is_missing(fit: Fit) -> tuple[bool, Length, bool]:
    return not fit.is_large_enough, fit.short_across + fit.short_up, fit.is_turned


def best_fit(verdicts: Sequence[Fit]) -> Fit | None:
    """Return the first sheet that is good, else the one that fails by least; None without sheets."""
    good = (fit for fit in verdicts if fit.is_good)
    by_least = sorted(verdicts, key=lambda fit: (not fit.follows_grain, *_by_what_is_missing(fit)))
    return next(good, by_least[0] if by_least else None)


def larger_sheet(
    size: Size, grain: PartGrain, stock: Stock, reach: Reach, units: Unit
) -> Size | None:
    """Return the smallest usual sheet, not among those of *stock*, on which the part would fit.

    The grain is taken to run as it does on the stock's first sheet: along the
    longer side, along the shorter one, or nowhere.
    """
    owned = {sheet.size for sheet in stock.sheets}
    for text in shipped_document("sheets.toml").data["larger"][units]:
        usual = parse_size(text, units)
        sheet = Sheet(usual, _grain_like(stock))
        if usual not in owned and fit_on(size, grain, sheet, stock.keeps_upright, reach).is_good:
            return usual
    return None


def _grain_like(stock: Stock) -> Grain:
    """Return how the grain of the stock would run on an upright sheet of another size."""
    if not stock.sheets:
        return Grain.UP
    first = stock.sheets[0]
    return (first.turned if first.size.across > first.size.up else first).grain
