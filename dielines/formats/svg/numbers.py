"""Numbers and lengths as SVG writes them.

Source of the absolute units: CSS Values 4, "Absolute lengths" (1 in = 96 px =
72 pt = 6 pc = 25.4 mm = 101.6 Q), as quoted by several independent pages.
"""

from __future__ import annotations

import math
import re
from typing import NamedTuple

from .bounds import MAX_DIGITS, MAX_NUMBER

NUMBER = r"[+-]?(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][+-]?[0-9]+)?"
WHITE = " \t\n\r\f"
_NUMBER = re.compile(NUMBER)
_LENGTH = re.compile(rf"[{WHITE}]*({NUMBER})([A-Za-z]*|%)[{WHITE}]*\Z")

ABSOLUTE_MM: dict[str, float] = {
    "mm": 1.0,
    "cm": 10.0,
    "q": 0.25,
    "in": 25.4,
    "pc": 25.4 / 6,
    "pt": 25.4 / 72,
    "px": 25.4 / 96,
}
MM_PER_PX = ABSOLUTE_MM["px"]
ABSOLUTE_PX = {unit: mm / MM_PER_PX for unit, mm in ABSOLUTE_MM.items()} | {"px": 1.0}
#: In font sizes; ex and ch are half the font size where the font is not known (CSS Values 4).
FONT_RELATIVE: dict[str, float] = {"em": 1.0, "ex": 0.5, "ch": 0.5}
VIEWPORT_RELATIVE = frozenset({"vw", "vh", "vi", "vb", "vmin", "vmax"})


class Length(NamedTuple):
    """A number with the unit behind it, in lower case; "" for none."""

    number: float
    unit: str


def number_of(text: str) -> float | None:
    """Return the number that *text* spells, or None when it is none or out of all bounds.

    >>> number_of("-.5e1"), number_of("1e999"), number_of("five")
    (-5.0, None, None)
    """
    return spelled(text) if len(text) <= MAX_DIGITS and _NUMBER.fullmatch(text) else None


def spelled(text: str) -> float | None:
    """Return the number that *text*, which is known to be one, spells; None out of all bounds."""
    value = float(text) if len(text) <= MAX_DIGITS else math.inf
    return value if abs(value) <= MAX_NUMBER else None


def parse_length(text: str) -> Length | None:
    """Return the length that *text* says, or None when it says none that is known.

    >>> parse_length(" 8.5IN "), parse_length("50%"), parse_length("auto")
    (Length(number=8.5, unit='in'), Length(number=50.0, unit='%'), None)
    """
    match = _LENGTH.match(text) if 0 < len(text) <= 2 * MAX_DIGITS else None
    number = spelled(match[1]) if match else None
    if match is None or number is None:
        return None
    unit = match[2].lower()
    known = unit in ("", "%", "rem") or unit in ABSOLUTE_PX or unit in FONT_RELATIVE
    return Length(number, unit) if known or unit in VIEWPORT_RELATIVE else None


def numbers_in(text: str) -> tuple[float, ...] | None:
    """Return the numbers of a list with white space or commas between, or None.

    >>> numbers_in("0 0,20 -10"), numbers_in("1 2 x")
    ((0.0, 0.0, 20.0, -10.0), None)
    """
    words = text.replace(",", " ").split() if len(text) <= 10 * MAX_DIGITS else ["x"]
    numbers = [number_of(word) for word in words]
    known = tuple(number for number in numbers if number is not None)
    return known if len(known) == len(numbers) else None
