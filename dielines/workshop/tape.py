"""Double-sided tape: one sort, in the widths that the person owns."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from typing import Any

from ..documents import Place, Refusal
from ..errors import LengthError
from ..fields import Field, Kind, take
from ..lengths import ZERO, Length, Unit, length_of, millimetres, parse_length, split_number
from .entries import Entry, amount, converted, table_at
from .stock import caliper_words

#: Thinnest and thickest, from tissue to foam (from memory), with room.
PLAUSIBLE_THICKNESS = (millimetres("0.02"), millimetres(3))
WIDEST = millimetres(200)
LONGEST_ROLL = millimetres(1_000_000)

#: Units in which rolls are sold, mm (International Yard and Pound Agreement 1959).
_ROLL_UNITS = {"m": Fraction(1000), "yd": Fraction("914.4"), "ft": Fraction("304.8")}

FIELDS = (
    Field("thickness", Kind.SIZE),
    Field("rolls", Kind.LIST),
)
ROLL_FIELDS = (
    Field("width", Kind.SIZE, required=True, help='Write width = "1/4 in".'),
    Field("length", Kind.TEXT),
    Field("price", Kind.NUMBER),
)


@dataclass(frozen=True, slots=True)
class Roll:
    """A roll of tape; its length and price are None where nobody said."""

    width: Length
    length: Length | None = None
    price: Decimal | None = None


@dataclass(frozen=True, slots=True)
class Tape:
    """A sort of tape with its rolls, narrow to wide."""

    name: str
    thickness: Length
    thickness_is_typical: bool
    rolls: tuple[Roll, ...]
    notes: tuple[str, ...] = ()

    @property
    def widths(self) -> tuple[Length, ...]:
        """The widths that the person owns, narrow to wide."""
        return tuple(roll.width for roll in self.rolls)

    def widest_within(self, room: Length) -> Roll | None:
        """Return the widest roll that is no wider than *room*; None when all are."""
        fitting = [roll for roll in self.rolls if roll.width <= room]
        return fitting[-1] if fitting else None


def read_tape(
    place: Place, name: str, value: Any, units: Unit | None, typical: Tape | None
) -> Tape | None:
    """Return the tape that the table at *place* describes; None when it is no table.

    What it leaves out is that of *typical*. Without one, this is the typical tape.
    """
    if take(place, value, Kind.TABLE) is None:
        return None
    entry = Entry(table_at(place, value, FIELDS, units))
    is_measured = typical is not None and entry.says("thickness")
    thickness = _thickness(entry, typical)
    notes = () if is_measured else (f"{caliper_words(thickness)} thick, as typical; measure yours",)
    if not entry.own.values.get("rolls") and typical:
        notes = (*notes, f"in the widths of the typical {typical.name}; list yours as rolls")
    named = tuple(f"{name}: {note}" for note in notes)
    return Tape(name, thickness, not is_measured, _rolls(entry, typical), named)


def _thickness(entry: Entry, typical: Tape | None) -> Length:
    if entry.says("thickness") or typical is None:
        return entry.caliper("thickness", *PLAUSIBLE_THICKNESS)
    return typical.thickness


def _rolls(entry: Entry, typical: Tape | None) -> tuple[Roll, ...]:
    listed = entry.own.values.get("rolls")
    if not listed and typical is not None:
        return typical.rolls
    if not listed:
        entry.own.place.report_key("missing", "'rolls' is missing")
        return ()
    place = entry.own.place / "rolls"
    read = [_roll(place / index, row, entry.own.units) for index, row in enumerate(listed)]
    return tuple(sorted((roll for roll in read if roll), key=lambda roll: roll.width))


def _roll(place: Place, value: Any, units: Unit | None) -> Roll | None:
    """Return the roll of one row: a width, or a table with width, length and price."""
    if not isinstance(value, dict):
        value = {"width": value}
    entry = Entry(table_at(place, value, ROLL_FIELDS, units))
    if not entry.says("width"):
        return None
    length = entry.read("length", roll_length, None) if entry.says("length") else None
    price = entry.read("price", amount, None) if entry.says("price") else None
    return Roll(converted(place, value["width"], units, _width, ZERO), length, price)


def _width(value: Any, units: Unit | None) -> Length:
    width = length_of(value, units)
    if not ZERO < width <= WIDEST:
        raise Refusal("out-of-range", "a tape is wider than nothing and at most 200 mm wide")
    return width


def roll_length(text: str, units: Unit | None) -> Length:
    """Return the length of a roll, which must bear a unit: metres, yards and feet as well.

    >>> roll_length("25 yd", None) == millimetres(22860)
    True
    """
    number, word = split_number(text)
    if not word:
        raise LengthError(f"{text.strip()!r} says no unit; write for example 25 m or 25 yd")
    scale = _ROLL_UNITS.get(word.lower())
    length = Length(number * scale) if scale else parse_length(text, None)
    if not ZERO < length <= LONGEST_ROLL:
        raise LengthError(f"{text.strip()!r} is no length of a roll")
    return length
