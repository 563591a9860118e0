"""Sizes of sheets, pages and photos: ``across x up``, or a name with ``upright`` or ``wide``.

>>> from dielines.lengths import inches
>>> parse_size("5 x 3 1/2", "in") == (inches(5), inches("3 1/2"))
True
>>> parse_size("A5 wide", "in") == (millimetres(210), millimetres(148))
True
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import cache
from types import MappingProxyType
from typing import NamedTuple

from ..documents import suggestion
from ..errors import LengthError
from ..lengths import ZERO, Length, Unit, length_of, millimetres, parse_length, show, split_number
from .shipped import shipped_document

MAX_SIDE = millimetres(10_000)  #: longer than any sheet, so a slip of the pen
SMALLEST_ISO = 10  #: ISO 216 names sheets from 0 to 10

#: The largest sheet of each series, mm, upright (ISO 216).
_ISO_SERIES = {"A": (841, 1189), "B": (1000, 1414)}
_TIMES = re.compile(r"\s*[x×]\s*", re.IGNORECASE)


class Size(NamedTuple):
    """How far something reaches across and up."""

    across: Length
    up: Length

    @property
    def turned(self) -> Size:
        """The same rectangle, turned by a right angle."""
        return Size(self.up, self.across)

    def words(self, units: Unit, denominator: int = 16) -> str:
        """Return the size as people read it: '8 1/2 x 11 in'.

        >>> parse_size("letter", None).words("in"), parse_size("letter", None).words("mm")
        ('8 1/2 x 11 in', '215.9 x 279.4 mm')
        """
        shown = f"{show(self.across, units, denominator)} x {show(self.up, units, denominator)}"
        plain = shown.replace(f" {units} x ≈ ", " x ").replace(f" {units} x ", " x ")
        return f"≈ {plain.removeprefix('≈ ')}" if "≈" in shown else plain


def iso_size(series: str, number: int) -> Size:
    """Return the upright sheet of ISO 216 series ``A`` or ``B``, from 0 to 10.

    Each is half of the one before, parallel to its shorter side, rounded down
    to a millimetre. Raises ValueError for any other.

    >>> iso_size("A", 4) == (millimetres(210), millimetres(297))
    True
    """
    if series not in _ISO_SERIES or not 0 <= number <= SMALLEST_ISO:
        raise ValueError(f"there is no ISO 216 sheet {series}{number}")
    short, long = _ISO_SERIES[series]
    for _ in range(number):
        short, long = long // 2, short
    return Size(millimetres(short), millimetres(long))


@cache
def named_sizes() -> Mapping[str, Size]:
    """Return all sizes that have a name, upright, by name in small letters."""
    iso = {
        f"{series}{number}".lower(): iso_size(series, number)
        for series in _ISO_SERIES
        for number in range(SMALLEST_ISO + 1)
    }
    rows = shipped_document("sheets.toml").data["sheet"]
    others = {row["name"].lower(): parse_sides(row["size"], "in") for row in rows}
    return MappingProxyType(iso | others)


def size_name(size: Size) -> str:
    """Return the name of *size*, with ``wide`` where it lies so; empty where it has none.

    >>> size_name(Size(millimetres(297), millimetres(210))), size_name(parse_sides("5 x 7", "in"))
    ('A4 wide', '')
    """
    for name, named in named_sizes().items():
        told = name.upper() if len(name) <= len("A10") else name
        if named == size:
            return told
        if named.turned == size:
            return f"{told} wide"
    return ""


def parse_size(text: str, units: Unit | None) -> Size:
    """Return the (across, up) that *text* says; bare numbers count in *units*.

    A name alone is upright. Raises LengthError, with what to write instead.

    >>> from dielines.lengths import inches
    >>> parse_size("12 x 12 in", "mm") == (inches(12), inches(12))
    True
    """
    if text.strip()[:1].isalpha():
        return _named_size(text)
    return parse_sides(text, units)


def _named_size(text: str) -> Size:
    words = text.lower().split()
    way = words.pop() if words[-1] in ("upright", "wide") else "upright"
    name, known = " ".join(words), named_sizes()
    if name not in known:
        hint = suggestion(name, known) if len(name) > len("A10") else ""
        raise LengthError(
            f"{text.strip()[:40]!r} is not a size; write across x up,"
            f" or A5 upright, A5 wide, letter{hint}"
        )
    return known[name] if way == "upright" else known[name].turned


def parse_sides(text: str, units: Unit | None) -> Size:
    """Return the (across, up) of a text such as ``5 x 3 1/2`` or ``127 x 89 mm``.

    A unit behind the second number holds for both; one behind the first alone
    must be that of the file.
    """
    sides = _TIMES.split(text)
    if len(sides) != 2:
        raise LengthError(f"{text.strip()[:40]!r} is not a size; write across x up, as in 5 x 7")
    (_, across_unit), (_, up_unit) = split_number(sides[0]), split_number(sides[1])
    if (
        across_unit
        and not up_unit
        and parse_length(f"1 {across_unit}", None) != length_of(1, units)
    ):
        raise LengthError(f"{text.strip()[:40]!r} says the unit of its first side only")
    across = parse_length(sides[0] if across_unit else f"{sides[0]} {up_unit}", units)
    return Size(_checked_side(across), _checked_side(parse_length(sides[1], units)))


def _checked_side(side: Length) -> Length:
    if side <= ZERO:
        raise LengthError("a side of a size must be more than nothing")
    if side > MAX_SIDE:
        raise LengthError("a side of a size is more than 10 m long")
    return side
