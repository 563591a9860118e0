"""Lengths of elements in user units, whatever unit they are written in."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from enum import Enum

from .numbers import ABSOLUTE_PX, FONT_RELATIVE, Length, parse_length
from .tree import Element

USUAL_FONT_SIZE = 16.0  #: px; CSS leaves "medium" to the reader, all of which take this


class Direction(Enum):
    """What a percentage is a part of."""

    ACROSS = "width of the viewport"
    ALONG = "height of the viewport"
    OTHER = "its diagonal over the square root of two"  # SVG 2, coords.html, "Units"


@dataclass(frozen=True, slots=True)
class Measures:
    """What relative lengths are relative to; sizes in user units."""

    width: float  #: of the viewport
    height: float
    font_size: float = USUAL_FONT_SIZE
    root_font_size: float = USUAL_FONT_SIZE
    window: tuple[float, float] = (0.0, 0.0)  #: of the outermost viewport

    def length(self, element: Element, name: str, direction: Direction) -> float | None:
        """Return the attribute *name* of *element* in user units, or None without a usable one."""
        parsed = parse_length(element.get(name))
        return None if parsed is None else self.to_units(parsed, direction)

    def to_units(self, length: Length, direction: Direction) -> float:
        """Return *length* in user units."""
        number, unit = length
        if unit == "%":
            return number / 100 * self._whole(direction)
        if unit in FONT_RELATIVE:
            return number * FONT_RELATIVE[unit] * self.font_size
        if unit == "rem":
            return number * self.root_font_size
        if unit in _WINDOW_SHARES:
            return number / 100 * _WINDOW_SHARES[unit](self.window)
        return number * ABSOLUTE_PX.get(unit, 1.0)

    def _whole(self, direction: Direction) -> float:
        if direction is Direction.ACROSS:
            return self.width
        if direction is Direction.ALONG:
            return self.height
        return math.hypot(self.width, self.height) / math.sqrt(2)


_WINDOW_SHARES: dict[str, Callable[[tuple[float, float]], float]] = {
    "vw": lambda window: window[0],
    "vi": lambda window: window[0],
    "vh": lambda window: window[1],
    "vb": lambda window: window[1],
    "vmin": min,
    "vmax": max,
}
