"""Units of length by their number in $INSUNITS (DXF Reference, header variables)."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

from ...lengths import Unit

_INCH = Fraction(254, 10)
_SURVEY_FOOT = Fraction(1_200_000, 3937)  # mm; US survey foot = 1200/3937 m, in use until 2022
_AU = Fraction(149_597_870_700_000)  # mm; IAU 2012, resolution B2

UNITLESS = 0

#: Name and millimetres of each unit. 22 (survey inch) is not 1 (inch): 2 parts in a million.
UNITS: Mapping[int, tuple[str, float]] = {
    1: ("in", float(_INCH)),
    2: ("ft", float(12 * _INCH)),
    3: ("mi", float(63_360 * _INCH)),
    4: ("mm", 1.0),
    5: ("cm", 10.0),
    6: ("m", 1e3),
    7: ("km", 1e6),
    8: ("microinch", float(_INCH / 1_000_000)),
    9: ("mil", float(_INCH / 1000)),
    10: ("yd", float(36 * _INCH)),
    11: ("angstrom", 1e-7),
    12: ("nm", 1e-6),
    13: ("micrometre", 1e-3),
    14: ("dm", 100.0),
    15: ("dam", 1e4),
    16: ("hm", 1e5),
    17: ("Gm", 1e12),
    18: ("au", float(_AU)),
    19: ("light year", 9.4607304725808e18),
    20: ("parsec", 3.0856775814913673e19),
    21: ("US survey ft", float(_SURVEY_FOOT)),
    22: ("US survey in", float(_SURVEY_FOOT / 12)),
    23: ("US survey yd", float(_SURVEY_FOOT * 3)),
    24: ("US survey mi", float(_SURVEY_FOOT * 5280)),
}

INSUNITS: Mapping[Unit, int] = {"in": 1, "mm": 4}
MEASUREMENT: Mapping[Unit, int] = {"in": 0, "mm": 1}  #: 0 imperial, 1 metric
IMPERIAL_NUMBERS = frozenset((1, 2, 3, 8, 9, 10, 21, 22, 23, 24))
