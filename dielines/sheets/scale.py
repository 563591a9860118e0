"""Lengths as whole numbers: exact where the sizes share a unit that is not too small."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

from ..lengths import Length

FINEST = 1_000_000  #: units in the longest length; with more, sizes are rounded
ROUNDED = Fraction(1, 100)  #: mm, the unit where sizes share none


@dataclass(frozen=True)
class Scale:
    """How long a unit is, mm."""

    unit: Fraction

    def up(self, length: Length) -> int:
        """Return *length* in units, rounded up: for what must find room."""
        return math.ceil(length.mm / self.unit)

    def down(self, length: Length) -> int:
        """Return *length* in units, rounded down: for the room there is."""
        return math.floor(length.mm / self.unit)

    def length(self, units: int) -> Length:
        """Return so many units as a length."""
        return Length(self.unit * units)


def scale_for(lengths: Iterable[Length]) -> Scale:
    """Return the largest unit of which all *lengths* are whole multiples.

    Where that would make the longest more than FINEST units, it is ROUNDED.

    >>> from ..lengths import inches
    >>> scale_for([inches("9 1/4"), inches("1/8")]).unit == inches("1/8").mm
    True
    """
    sizes = [length.mm for length in lengths if length.mm]
    if not sizes:
        return Scale(ROUNDED)
    unit = sizes[0]
    for size in sizes[1:]:
        unit = _shared(unit, size)
    return Scale(unit if max(sizes) / unit <= FINEST else ROUNDED)


def _shared(a: Fraction, b: Fraction) -> Fraction:
    """Return the largest number of which both are whole multiples."""
    below = a.denominator * b.denominator
    return Fraction(math.gcd(a.numerator * b.denominator, b.numerator * a.denominator), below)
