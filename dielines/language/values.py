"""Values of the template language: bare numbers, lengths, plain numbers, flags and words."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from fractions import Fraction

from ..lengths import MM_PER_UNIT, Length, Unit, show

MAX_FRACTION_OF_INCH = 64  #: finer ones are shown as decimals
DECIMALS = 4


class ValueKind(Enum):
    """What a value is, in the words that a message uses."""

    BARE = "a bare number"  # a literal without a unit: turns into what its place needs
    NUMBER = "a plain number"
    LENGTH = "a length"
    AREA = "a length times a length"  # only on its way: no place takes one
    FLAG = "yes or no"
    WORD = "a word"


#: How many lengths are multiplied in each kind that can be calculated with.
DIMENSIONS: dict[ValueKind, int] = {
    ValueKind.BARE: 0,
    ValueKind.NUMBER: 0,
    ValueKind.LENGTH: 1,
    ValueKind.AREA: 2,
}


@dataclass(frozen=True, slots=True)
class Value:
    """A value and its kind; a length is in mm, an area in mm2, a bare number has no unit."""

    kind: ValueKind
    payload: Fraction | bool | str

    @property
    def amount(self) -> Fraction:
        """The number in it; flags and words have none (TypeError)."""
        if not isinstance(self.payload, Fraction):
            raise TypeError(f"{self.kind.value} has no amount")
        return self.payload

    def shown(self, units: Unit | None) -> str:
        """Return the value as the template's author would write it.

        >>> number(Fraction(3, 2)).shown("in"), number(Fraction(4, 3)).shown("in")
        ('1.5', '4/3')
        >>> flag(True).shown("in"), word("arched").shown("in")
        ('yes', 'arched')
        >>> length(Fraction(127, 40)).shown("in"), length(Fraction(127, 40)).shown("mm")
        ('1/8 in', '3.175 mm')
        """
        if self.kind is ValueKind.LENGTH:
            return _length_shown(self.amount, units or "mm")
        if self.kind is ValueKind.FLAG:
            return "yes" if self.payload else "no"
        if isinstance(self.payload, Fraction) and 10**DECIMALS % self.payload.denominator == 0:
            return _decimal(self.payload)
        return str(self.payload)


def bare(amount: Fraction | int) -> Value:
    """Return a number without a unit, such as a literal."""
    return Value(ValueKind.BARE, Fraction(amount))


def number(amount: Fraction | int) -> Value:
    """Return a plain number: a count, an angle in degrees, a ratio."""
    return Value(ValueKind.NUMBER, Fraction(amount))


def length(mm: Fraction | int) -> Value:
    """Return a length of so many mm."""
    return Value(ValueKind.LENGTH, Fraction(mm))


def flag(is_set: bool) -> Value:
    """Return yes or no."""
    return Value(ValueKind.FLAG, is_set)


def word(text: str) -> Value:
    """Return a word that was chosen."""
    return Value(ValueKind.WORD, text)


def _length_shown(mm: Fraction, units: Unit) -> str:
    """Return the length exactly where a ruler or four decimals can say it, else with ``≈``."""
    amount = mm / MM_PER_UNIT[units]
    if units == "in" and MAX_FRACTION_OF_INCH % amount.denominator == 0:
        return show(Length(mm), "in", MAX_FRACTION_OF_INCH)
    rounded = round(amount, DECIMALS)
    return f"{'' if rounded == amount else '≈ '}{_decimal(rounded)} {units}"


def _decimal(amount: Fraction) -> str:
    """Return a fraction of ten thousandths as a decimal, digit by digit."""
    sign = "-" if amount < 0 else ""
    digits = str(abs(amount) * 10**DECIMALS).rjust(DECIMALS + 1, "0")
    return f"{sign}{digits[:-DECIMALS]}.{digits[-DECIMALS:]}".rstrip("0").rstrip(".")
