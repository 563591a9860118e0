"""Exact lengths: reading them as people write them, showing them as people read them.

A length is a fraction of millimetres, never a float: 4 7/8 in is 123.825 mm.
1 in = 25.4 mm exactly (International Yard and Pound Agreement 1959). A caliper
point, the thousandth of an inch in which stock thickness is measured, has a
reader of its own, so that it can never be taken for the typographic point.
"""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal, overload

from .errors import LengthError

Unit = Literal["in", "mm"]

MM_PER_UNIT: dict[str, Fraction] = {
    "in": Fraction(254, 10),  # International Yard and Pound Agreement 1959
    "mm": Fraction(1),
    "cm": Fraction(10),
}
CALIPER_POINT = Fraction(254, 10_000)  #: mm; 1 point of caliper = 0.001 in
MAX_DIGITS = 12

_UNIT_WORDS = {
    "in": "in", "inch": "in", "inches": "in", '"': "in", "″": "in", "”": "in", "''": "in",
    "mm": "mm", "cm": "cm",
}  # fmt: skip
_NUMBER = re.compile(
    r"""\s*(?P<sign>[-−]?)\s*
    (?: (?P<whole>\d+) (?:\s+|\s*[-–]\s*) (?P<top>\d+)\s*[/⁄]\s*(?P<bottom>\d+)
      | (?P<top_only>\d+)\s*[/⁄]\s*(?P<bottom_only>\d+)
      | (?P<decimal>\d+\.?\d*|\.\d+) )
    \s*(?P<unit>.*?)\s*$""",
    re.VERBOSE | re.DOTALL | re.ASCII,
)


@dataclass(frozen=True, order=True, slots=True)
class Length:
    """An exact length.

    >>> inches("4 7/8").mm
    Fraction(4953, 40)
    >>> inches(1) - millimetres(25)
    Length(mm=Fraction(2, 5))
    """

    mm: Fraction

    def __add__(self, other: Length) -> Length:
        return Length(self.mm + other.mm)

    def __sub__(self, other: Length) -> Length:
        return Length(self.mm - other.mm)

    def __neg__(self) -> Length:
        return Length(-self.mm)

    def __mul__(self, times: int | Fraction) -> Length:
        return Length(self.mm * times)

    __rmul__ = __mul__

    @overload
    def __truediv__(self, other: Length) -> Fraction: ...
    @overload
    def __truediv__(self, other: int | Fraction) -> Length: ...
    def __truediv__(self, other: Length | int | Fraction) -> Fraction | Length:
        return self.mm / other.mm if isinstance(other, Length) else Length(self.mm / other)

    def __bool__(self) -> bool:
        return bool(self.mm)


ZERO = Length(Fraction(0))


def inches(value: int | str | Fraction) -> Length:
    """Return *value* inches; a text may be a mixed fraction."""
    return _in_unit(value, "in")


def millimetres(value: int | str | Fraction) -> Length:
    """Return *value* millimetres."""
    return _in_unit(value, "mm")


def _in_unit(value: int | str | Fraction, unit: Unit) -> Length:
    if isinstance(value, str):
        return parse_length(value, unit)
    return Length(Fraction(value) * MM_PER_UNIT[unit])


def caliper_points(points: int | str | Fraction) -> Length:
    """Return the thickness of a stock of so many caliper points (1 pt = 0.001 in)."""
    return Length(Fraction(points) * CALIPER_POINT)


def parse_length(text: str, units: Unit | None) -> Length:
    """Return the length that *text* says; a bare number counts in *units*.

    Raises LengthError for anything else, a bare number without *units* included.

    >>> parse_length("4-7/8 in", None) == parse_length("4.875″", "mm") == inches("4 7/8")
    True
    >>> parse_length("12.4 cm", None)
    Length(mm=Fraction(124, 1))
    """
    number, unit_word = split_number(text)
    return Length(number * MM_PER_UNIT[_unit(unit_word, units, text)])


def parse_caliper(text: str, units: Unit | None) -> Length:
    """Return a stock's thickness, where ``pt`` means a caliper point."""
    number, unit_word = split_number(text)
    if unit_word.lower() == "pt":
        return caliper_points(number)
    return Length(number * MM_PER_UNIT[_unit(unit_word, units, text)])


def split_number(text: str) -> tuple[Fraction, str]:
    """Return the exact number at the start of *text* and the word behind it."""
    plain = _without_vulgar_fractions(text)
    match = _NUMBER.match(plain)
    if match is None:
        raise LengthError(f"{text.strip()[:40]!r} is not a length")
    if any(len(digits) > MAX_DIGITS for digits in re.findall(r"\d+", plain)):
        raise LengthError(f"a number of more than {MAX_DIGITS} digits")
    value = _value(match, text)
    return (-value if match["sign"] else value), match["unit"]


def _value(match: re.Match[str], text: str) -> Fraction:
    if match["decimal"]:
        return Fraction(match["decimal"])
    top, bottom = match["top"] or match["top_only"], match["bottom"] or match["bottom_only"]
    if int(bottom) == 0:
        raise LengthError(f"{text.strip()!r} divides by zero")
    return int(match["whole"] or 0) + Fraction(int(top), int(bottom))


def _without_vulgar_fractions(text: str) -> str:
    """Return *text* with ½, ⅞ and the like written out as ' 1/2', ' 7/8'."""
    pieces = [
        " " + unicodedata.normalize("NFKC", sign) if unicodedata.category(sign) == "No" else sign
        for sign in text
    ]
    return "".join(pieces).replace("⁄", "/")


def _unit(word: str, units: Unit | None, text: str) -> str:
    if not word and units is None:
        raise LengthError(f"{text.strip()!r} is a bare number, but nothing says its unit")
    if word == "":
        return units or "mm"
    if word.lower() not in _UNIT_WORDS:
        raise LengthError(f"{word[:20]!r} is not a unit (in, mm, cm)", text.find(word))
    return _UNIT_WORDS[word.lower()]


def show(length: Length, units: Unit, denominator: int = 16) -> str:
    """Return *length* as people read it; ``≈`` in front where it had to be rounded.

    Inches show as a reduced fraction with at most *denominator*, millimetres to
    one decimal. Halves are rounded to the even neighbour.

    >>> show(inches("4 14/16"), "in"), show(millimetres(10), "in"), show(inches("1/16"), "mm")
    ('4 7/8 in', '≈ 3/8 in', '≈ 1.6 mm')
    """
    step = Fraction(1, denominator) if units == "in" else Fraction(1, 10)
    exact = length.mm / MM_PER_UNIT[units]
    shown = round(exact / step) * step
    words = _fraction_words(shown) if units == "in" else _decimal_words(shown)
    return f"{'' if shown == exact else '≈ '}{words} {units}"


def _fraction_words(value: Fraction) -> str:
    sign, size = "-" if value < 0 else "", abs(value)
    whole, rest = divmod(size, 1)
    if not rest:
        return f"{sign}{whole}"
    return f"{sign}{whole} {rest}" if whole else f"{sign}{rest}"


def _decimal_words(value: Fraction) -> str:
    return f"{value.numerator}" if value.denominator == 1 else f"{float(value):.1f}"
