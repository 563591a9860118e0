"""The largest page whose biggest part still fits a given sheet, with the grain."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from fractions import Fraction

from ..lengths import MM_PER_UNIT, Length, Unit
from ..workshop.sizes import Size
from .request import SizeKind, SizeRule

#: steps in which a page grows: what people measure with
STEP: dict[Unit, Length] = {"in": Length(MM_PER_UNIT["in"] / 16), "mm": Length(Fraction(1))}
#: steps in which a page is looked for that fits at all
FIRST_STEP: dict[Unit, Length] = {"in": Length(MM_PER_UNIT["in"] / 2), "mm": Length(Fraction(10))}

Fits = Callable[[Size], bool]


def largest_page(sheet: Size, least: Length, units: Unit, fits: Fits) -> Size | None:
    """Return the largest page that *fits*, in steps of 1/16 in or 1 mm; None when none does.

    Pages can be too small to be made as well, so a page that fits is looked for
    first. From there a part grows across with the page's width and up with its
    height, so both are searched one after the other, each by halving.
    """
    most, step = max(sheet), STEP[units]
    start = next((page for page in _small_pages(least, most, units) if fits(page)), None)
    if start is None:
        return None
    across = _largest(start.across, most, step, lambda width: fits(Size(width, start.up)))
    up = _largest(start.up, most, step, lambda height: fits(Size(across, height)))
    return Size(across, up)


def _small_pages(least: Length, most: Length, units: Unit) -> Iterator[Size]:
    """Yield pages of three shapes from small to large: square, wide and upright."""
    yield Size(least, least)
    side = FIRST_STEP[units] * Fraction(-(-least.mm // FIRST_STEP[units].mm))
    while side <= most:
        longer = side * Fraction(3, 2)
        yield from (Size(side, side), Size(longer, side), Size(side, longer))
        side += FIRST_STEP[units]


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
