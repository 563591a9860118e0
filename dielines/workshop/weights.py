"""Weights of paper: grammage, US basis weight, and the thickness that follows from bulk.

>>> weight = parse_weight("65 lb cover")
>>> round(float(weight), 2)
175.77
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from fractions import Fraction
from functools import cache
from types import MappingProxyType

from ..documents import suggestion
from ..errors import LengthError
from ..lengths import MICROMETRE, Length, split_number
from .shipped import shipped_document
from .sizes import Size, parse_sides

GRAMS_PER_POUND = Fraction("453.59237")  # exact, by the agreement of 1959
SHEETS_PER_REAM = 500
MAX_GRAMMAGE = 5000  #: g/m2; heavier than the heaviest board

_GRAMMAGE_WORDS = {"g/m2", "gsm", "g/sqm"}
_POUNDS = re.compile(r"(?:lbs?\.?|pounds?|#)\s*(?P<basic>.*)", re.IGNORECASE | re.DOTALL)


@cache
def basic_sizes() -> Mapping[str, Size]:
    """Return the basic size of each sort of paper, by its name in small letters."""
    rows = shipped_document("basic-sizes.toml").data["basic"]
    return MappingProxyType(
        {
            name: parse_sides(row["size"], "in")
            for row in rows
            for name in (row["name"], *row["also"])
        }
    )


def _square_metres(size: Size) -> Fraction:
    return size.across.mm * size.up.mm / 1_000_000


def grammage_of(pounds: Fraction | int, basic: str) -> Fraction:
    """Return the grammage, g/m2, of a paper of *pounds* a ream of the sort *basic*.

    By definition 500 sheets of the basic size weigh so many pounds:
    lb * 453.59237 / (500 * area in m2). Raises KeyError for an unknown sort.
    """
    ream = SHEETS_PER_REAM * _square_metres(basic_sizes()[basic])
    return pounds * GRAMS_PER_POUND / ream


def pounds_of(grammage_gsm: Fraction | int, basic: str) -> Fraction:
    """Return the basis weight, in pounds, of a paper of that grammage: the reverse."""
    ream = SHEETS_PER_REAM * _square_metres(basic_sizes()[basic])
    return Fraction(grammage_gsm) * ream / GRAMS_PER_POUND


def thickness_of(bulk_cm3_per_g: Fraction, grammage_gsm: Fraction) -> Length:
    """Return the thickness of a sheet: bulk x grammage, in micrometres (ISO 534).

    >>> float(thickness_of(Fraction("1.3"), Fraction(216)).mm)
    0.2808
    """
    return Length(bulk_cm3_per_g * grammage_gsm * MICROMETRE)


def bulk_of(caliper: Length, grammage_gsm: Fraction) -> Fraction:
    """Return the bulk, cm3/g, of a paper of that thickness and grammage (ISO 534)."""
    return caliper.mm / MICROMETRE / grammage_gsm


def parse_weight(text: str) -> Fraction:
    """Return the grammage that ``65 lb cover`` or ``176 g/m2`` says; raises LengthError."""
    try:
        number, words = split_number(text.replace("²", "2"))
    except LengthError as error:
        raise _no_weight(text) from error
    grammage = _grammage(number, words.lower(), text)
    if not 0 < grammage <= MAX_GRAMMAGE:
        raise LengthError(f"{text.strip()[:40]!r} is no weight of paper")
    return grammage


def _grammage(number: Fraction, words: str, text: str) -> Fraction:
    if words.replace(" ", "") in _GRAMMAGE_WORDS:
        return number
    match = _POUNDS.fullmatch(words)
    if match is None:
        raise _no_weight(text)
    basic = match["basic"].strip()
    if basic not in basic_sizes():
        raise LengthError(_which_sort(text, basic))
    return grammage_of(number, basic)


def _no_weight(text: str) -> LengthError:
    words = text.strip()[:40]
    return LengthError(f"{words!r} is not a weight; write for example 176 g/m2 or 65 lb cover")


def _which_sort(text: str, basic: str) -> str:
    sorts = ", ".join(basic_sizes())
    if not basic:
        return (
            f"{text.strip()!r} says no sort of paper, and a pound of each is another; add {sorts}"
        )
    return f"{basic[:20]!r} is not a sort of paper ({sorts}){suggestion(basic, basic_sizes())}"
