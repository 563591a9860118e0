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
from decimal import Decimal
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
MICROMETRE = Fraction(1, 1000)  #: mm
MAX_DIGITS = 12  #: in one number
MAX_CHARACTERS = 80  #: in the text of a length

_UNIT_WORDS = {
    "in": "in", "in.": "in", "inch": "in", "inches": "in",
    '"': "in", "″": "in", "”": "in", "“": "in", "''": "in", "′′": "in", "’’": "in",
    "mm": "mm", "millimetre": "mm", "millimetres": "mm", "millimeter": "mm", "millimeters": "mm",
    "cm": "cm", "centimetre": "cm", "centimetres": "cm", "centimeter": "cm", "centimeters": "cm",
}  # fmt: skip
_MICROMETRE_WORDS = {"um", "µm", "μm"}  # the micro sign and the Greek letter look alike
_OTHER_UNITS = {
    "px": "a pixel has no size on paper",
    "pt": "a point (1/1000 in) measures the caliper of a stock and nothing else",
    "ft": "feet are not read here; write inches",
    "'": "feet are not read here; write inches",
    "′": "feet are not read here; write inches",
    "’": "feet are not read here; write inches",
    "m": "metres are not read here; write cm or mm",
}
_DASHES = dict.fromkeys(map(ord, "‐‑‒–−"), "-")  # hyphens, dashes and the minus sign
_SLASHES = dict.fromkeys(map(ord, "⁄∕"), "/")
_ONE_SIGN_FRACTION = re.compile(  # ½, ⁷⁄₈; a digit in front makes the whole of a mixed number
    r"(?P<whole>[0-9]?)(?P<fraction>[⁰¹²³⁴-⁹]+ ?[⁄∕/] ?[₀-₉]+|[¼-¾⅐-⅞↉])"
)
_NUMBER = re.compile(
    r"""\ *(?P<sign>-?)\ *
    (?: (?P<whole>\d+) (?:\ +|-) (?P<top>\d+) \ ?/\ ? (?P<bottom>\d+)
      | (?P<top_only>\d+) \ ?/\ ? (?P<bottom_only>\d+)
      | (?P<decimal>\d+\.?\d*|\.\d+) )
    \ *(?P<rest>.*?)\ *""",
    re.VERBOSE | re.ASCII,
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
    return length_of(value, "in")


def millimetres(value: int | str | Fraction) -> Length:
    """Return *value* millimetres."""
    return length_of(value, "mm")


def caliper_points(points: int | str | Fraction) -> Length:
    """Return the thickness of a stock of so many caliper points (1 pt = 0.001 in)."""
    if isinstance(points, str):
        return parse_caliper(f"{points} pt", None)
    return Length(Fraction(points) * CALIPER_POINT)


def length_of(value: int | str | Decimal | Fraction, units: Unit | None) -> Length:
    """Return the length that a value of a file says: a number counts in *units*.

    Raises LengthError as parse_length does, and TypeError for a float, which
    would bring its rounding along.

    >>> length_of(Decimal("4.875"), "in") == length_of("4 7/8", "in")
    True
    """
    if isinstance(value, str):
        return parse_length(value, units)
    return Length(number_of(value) * MM_PER_UNIT[_unit_of_bare(str(value), units)])


def number_of(value: int | Decimal | Fraction) -> Fraction:
    """Return *value* as an exact number; raises LengthError beyond MAX_DIGITS digits.

    A decimal may be written with an exponent, and 1e999999999 is nine digits of
    text but a gigabyte of number, so its size is looked at before it is made.
    """
    if isinstance(value, float):
        raise TypeError("a float is not exact; give a text, an integer or a fraction")
    if isinstance(value, Decimal) and _is_vast(value):
        raise _too_many_digits()
    if isinstance(value, int) and abs(value) >= 10**MAX_DIGITS:
        raise _too_many_digits()
    return Fraction(value)


def _is_vast(value: Decimal) -> bool:
    if not value.is_finite():
        return True
    exponent = value.as_tuple().exponent
    return value.adjusted() >= MAX_DIGITS or int(exponent) < -MAX_DIGITS


def parse_length(text: str, units: Unit | None) -> Length:
    """Return the length that *text* says; a bare number counts in *units*.

    Raises LengthError for anything else, a bare number without *units* included.
    A hyphen between a whole number and a fraction joins them, as carpenters
    write; with spaces around it, it would be a sum, and is refused.

    >>> parse_length("4-7/8 in", None) == parse_length("4.875″", "mm") == inches("4 7/8")
    True
    >>> parse_length("12.4 cm", None)
    Length(mm=Fraction(124, 1))
    """
    number, word = split_number(text)
    return Length(number * MM_PER_UNIT[_unit(word, units, text)])


def parse_caliper(text: str, units: Unit | None) -> Length:
    """Return a stock's thickness, where ``pt`` means a caliper point.

    >>> parse_caliper("60 pt", None) == millimetres("1.524")
    True
    """
    number, word = split_number(text)
    if word.lower() == "pt":
        return caliper_points(number)
    if word.lower() in _MICROMETRE_WORDS:
        return Length(number * MICROMETRE)
    return Length(number * MM_PER_UNIT[_unit(word, units, text)])


def split_number(text: str) -> tuple[Fraction, str]:
    """Return the exact number at the start of *text* and the word behind it.

    >>> split_number("4⅞ in"), split_number("-3/8")
    ((Fraction(39, 8), 'in'), (Fraction(-3, 8), ''))
    """
    if len(text) > MAX_CHARACTERS:
        raise LengthError(f"a text of more than {MAX_CHARACTERS} characters is not a length")
    plain = _plain(text)
    match = _NUMBER.fullmatch(plain)
    if match is None:
        raise LengthError(_why_no_number(text))
    if any(len(digits) > MAX_DIGITS for digits in re.findall(r"\d+", plain)):
        raise _too_many_digits()
    _refuse_second_number(match["rest"], text)
    value = _value(match, text)
    return (-value if match["sign"] else value), match["rest"]


def _plain(text: str) -> str:
    """Return *text* with one kind of space, hyphen and slash, and ½ written out as 1/2."""
    spaced = "".join(
        " " if unicodedata.category(sign) == "Zs" or sign in "\t\r\n" else sign for sign in text
    )
    written_out = _ONE_SIGN_FRACTION.sub(_written_out, spaced)
    return written_out.translate(_DASHES).translate(_SLASHES)


def _written_out(match: re.Match[str]) -> str:
    fraction = unicodedata.normalize("NFKC", match["fraction"])
    return f"{match['whole']} {fraction} " if match["whole"] else f"{fraction} "


def _why_no_number(text: str) -> str:
    words = text.strip()[:40]
    if not words:
        return "an empty text is not a length"
    return f"{words!r} is not a length; write for example 4 7/8, 1/16 in or 12.4 cm"


def _refuse_second_number(rest: str, text: str) -> None:
    """Raise LengthError when what follows the number is no word."""
    words = text.strip()[:40]
    if rest.startswith(","):
        raise LengthError(f"{words!r} has a comma; write the decimal point as a point")
    if re.match(r"[eE][-+]?\d", rest):
        raise LengthError(f"{words!r} has a power of ten; write the number out")
    if rest[:1] in tuple("+-*/."):
        raise LengthError(f"{words!r} is not one number; write for example 4 7/8 or 4-7/8")
    if rest[:1].isdigit() or re.search(r"\s\d", rest):
        raise LengthError(f"{words!r} has more than one number; write for example 4 7/8")


def _value(match: re.Match[str], text: str) -> Fraction:
    if match["decimal"]:
        return Fraction(match["decimal"].rstrip("."))
    top, bottom = match["top"] or match["top_only"], match["bottom"] or match["bottom_only"]
    if int(bottom) == 0:
        raise LengthError(f"{text.strip()!r} divides by zero")
    if match["whole"] and int(top) >= int(bottom):
        raise LengthError(f"the fraction in {text.strip()!r} is not less than one")
    return int(match["whole"] or 0) + Fraction(int(top), int(bottom))


def _too_many_digits() -> LengthError:
    return LengthError(f"a number of more than {MAX_DIGITS} digits")


def _unit(word: str, units: Unit | None, text: str) -> str:
    if word == "":
        return _unit_of_bare(text.strip(), units)
    known = _UNIT_WORDS.get(word.lower())
    if known is None:
        reason = _OTHER_UNITS.get(word.lower(), "there are in, mm and cm")
        raise LengthError(f"{word[:20]!r} is not a unit; {reason}", max(text.rfind(word), 0))
    return known


def _unit_of_bare(text: str, units: Unit | None) -> str:
    if units is None:
        raise LengthError(
            f"{text!r} is a bare number, but nothing says its unit;"
            ' write the unit, or units = "in" or "mm" at the top of the file'
        )
    return units


def show(length: Length, units: Unit, denominator: int = 16) -> str:
    """Return *length* as people read it; ``≈`` in front where it had to be rounded.

    Inches show as a reduced fraction with at most *denominator* (16 or 32, as
    rulers have it), millimetres to one decimal. Halves are rounded to the even
    neighbour, so the error is at most half a step.

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
    sign, tenths = "-" if value < 0 else "", int(abs(value) * 10)
    whole, rest = divmod(tenths, 10)
    return f"{sign}{whole}.{rest}" if rest else f"{sign}{whole}"
