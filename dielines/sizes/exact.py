"""Exact lengths as text: for people in reasons, for reading back in files."""

from __future__ import annotations

import re
from fractions import Fraction

from ..lengths import MM_PER_UNIT, Length, Unit

FINEST_FRACTION = 64  #: of an inch; finer ones are on no ruler
SHOWN_PARTS = 1_000_000  #: of a mm; a decimal that people are shown has six places at most
WRITTEN_PARTS = 1_000_000_000_000  #: of a mm; in files it has twelve, else it is a fraction
_MILLIMETRES = re.compile(r"-?[0-9]{1,80}(?:\.[0-9]{1,80}|/[1-9][0-9]{0,79})? mm", re.ASCII)


def exact_words(length: Length, units: Unit) -> str:
    """Return *length* exactly, in *units* or, where only those say it neatly, in the others.

    >>> exact_words(Length(Fraction(6, 25)), "in"), exact_words(Length(Fraction(6, 25)), "mm")
    ('0.24 mm', '0.24 mm')
    >>> exact_words(Length(Fraction(254, 30)), "in"), exact_words(Length(Fraction(10, 3)), "mm")
    ('1/3 in', '3 1/3 mm')
    """
    inches, mm = length.mm / MM_PER_UNIT["in"], length.mm
    on_ruler = FINEST_FRACTION % inches.denominator == 0
    if units == "in" and (on_ruler or not _is_decimal(mm)):
        return f"{mixed_words(inches)} in"
    if _is_decimal(mm):
        return f"{decimal_words(mm)} mm"
    return f"{mixed_words(inches)} in" if on_ruler else f"{mixed_words(mm)} mm"


def mixed_words(value: Fraction) -> str:
    """Return *value* as a whole number and a reduced fraction.

    >>> mixed_words(Fraction(-41, 7)), mixed_words(Fraction(3))
    ('-5 6/7', '3')
    """
    sign = "-" if value < 0 else ""
    whole, rest = divmod(abs(value), 1)
    pieces = [str(whole)] if whole or not rest else []
    return sign + " ".join([*pieces, str(rest)] if rest else pieces)


def _is_decimal(value: Fraction) -> bool:
    return SHOWN_PARTS % value.denominator == 0


def decimal_words(value: Fraction) -> str:
    """Return *value*, whose decimal ends, with as many places as it needs.

    >>> decimal_words(Fraction(-4953, 40)), decimal_words(Fraction(100))
    ('-123.825', '100')
    """
    places = 0
    while (value * 10**places).denominator != 1:
        places += 1
    digits = str(int(abs(value) * 10**places)).zfill(places + 1)
    whole, rest = digits[: len(digits) - places], digits[len(digits) - places :]
    return f"{'-' if value < 0 else ''}{whole}{'.' + rest if rest else ''}"


def millimetres_text(length: Length) -> str:
    """Return *length* so that ``read_millimetres`` gives exactly the same.

    >>> millimetres_text(Length(Fraction(4953, 40))), millimetres_text(Length(Fraction(10, 3)))
    ('123.825 mm', '10/3 mm')
    """
    is_short = WRITTEN_PARTS % length.mm.denominator == 0
    return f"{decimal_words(length.mm) if is_short else length.mm} mm"


def is_millimetres(text: str) -> bool:
    """Return whether *text* is as ``millimetres_text`` writes a length."""
    return _MILLIMETRES.fullmatch(text) is not None


def read_millimetres(text: str) -> Length:
    """Return the length that ``millimetres_text`` wrote; ValueError for any other text."""
    if not is_millimetres(text):
        raise ValueError(f"{text[:60]!r} is no length as it was written")
    return Length(Fraction(text.removesuffix(" mm")))
