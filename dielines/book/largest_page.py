"""The largest page whose biggest part still fits a given sheet, with the grain."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction

from ..lengths import MM_PER_UNIT, Length, Unit
from ..workshop.sizes import Size
from .request import SizeKind, SizeRule

#: steps in which a page grows: what people measure with
STEP: dict[Unit, Length] = {"in": Length(MM_PER_UNIT["in"] / 16), "mm": Length(Fraction(1))}

Fits = Callable[[Size], bool]


def largest_page(sheet: Size, least: Length, units: Unit, fits: Fits) -> Size | None:
    """Return the largest page that *fits*, in steps of 1/16 in or 1 mm; None when none does.

    A part grows across with the page's width and up with its height, so both are
    searched one after the other, each by halving.
    """
    smallest = Size(least, least)
    if not fits(smallest):
        return None
    step = STEP[units]
    across = _largest(least, sheet.across, step, lambda width: fits(Size(width, least)))
    up = _largest(least, sheet.up, step, lambda height: fits(Size(across, height)))
    return Size(across, up)


def _largest(least: Length, most: Length, step: Length, fits: Callable[[Length], bool]) -> Length:
    """Return the largest multiple of *step* from *least* to *most* that fits; least does."""
    low = -(-least.mm // step.mm)
    high = most.mm // step.mm
    while low < high:
        middle = (low + high + 1) // 2
        if fits(step * Fraction(middle)):
            low = middle
        else:
            high = middle - 1
    return max(step * Fraction(low), least)


def with_page(rule: SizeRule, page: Size) -> SizeRule:
    """Return the rule that a book of that page size would have."""
    return replace(rule, kind=SizeKind.PAGE, sides=page)
