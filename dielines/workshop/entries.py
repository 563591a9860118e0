"""Reading one table of a workshop file, with typical values for what it leaves out."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from decimal import Decimal
from typing import Any, TypeVar

from ..documents import Place, Refusal
from ..errors import LengthError
from ..fields import Field, checked
from ..lengths import ZERO, Length, Unit, length_of, millimetres, number_of, parse_caliper
from .sizes import Size, parse_size

T = TypeVar("T")
Convert = Callable[[Any, Unit | None], T]

NO_SIZE = Size(ZERO, ZERO)
LONGEST = millimetres(10_000)  #: longer than anything in a workshop but a roll of tape


@dataclass(frozen=True)
class Table:
    """A table whose fields were checked, and the unit that its bare numbers count in."""

    place: Place
    values: Mapping[str, Any]
    units: Unit | None
    refused: frozenset[str] = frozenset()  #: keys whose value was reported and left out


def table_at(place: Place, value: Any, fields: Sequence[Field], units: Unit | None) -> Table:
    """Return the table at *place*; unknown keys and wrong kinds are reported."""
    good = checked(place, value, fields)
    return Table(place, good, units, frozenset(value) - frozenset(good))


@dataclass
class Entry:
    """A table being read; what it does not say is taken from the *typical* one.

    Each reader returns a value that is good to go on with; when it is not the
    person's, a fault has been reported, and the file is refused in the end.
    """

    own: Table
    typical: Table | None = None
    taken: dict[str, str] = field(default_factory=dict)  #: what came from the typical table

    def has(self, key: str) -> bool:
        """Return whether the person or the typical table says anything of *key*."""
        return self._table_of(key) is not None

    def says(self, key: str) -> bool:
        """Return whether the person's own table says anything of *key*."""
        return key in self.own.values

    def length(self, key: str, least: Length = ZERO, most: Length = LONGEST) -> Length:
        """Return the length at *key*, which must lie within the two limits."""
        return self.read(
            key, lambda value, units: _within(length_of(value, units), least, most), ZERO
        )

    def caliper(self, key: str, least: Length, most: Length) -> Length:
        """Return the thickness at *key*, where ``pt`` means 1/1000 in."""
        return self.read(
            key, lambda value, units: _within(_caliper(value, units), least, most), most
        )

    def size(self, key: str) -> Size:
        """Return the size, across x up, at *key*."""
        return self.read(key, size_of, NO_SIZE)

    def word(self, key: str) -> str:
        """Return the text at *key*; its field says which are allowed."""
        return self.read(key, lambda value, units: str(value), "")

    def flag(self, key: str) -> bool:
        """Return the yes or no at *key*."""
        return self.read(key, lambda value, units: bool(value), False)

    def whole(self, key: str) -> int:
        """Return the whole number at *key*."""
        return self.read(key, lambda value, units: int(value), 0)

    def read(self, key: str, convert: Convert[T], instead: T) -> T:
        """Return what *convert* makes of the value at *key*, or *instead* and report why."""
        table = self._table_of(key)
        if table is None:
            if key not in self.own.refused:
                self.own.place.report_key("missing", f"{key!r} is missing")
            return instead
        if table is self.typical:
            self.taken[key] = _as_written(table.values[key])
        return converted(table.place / key, table.values[key], table.units, convert, instead)

    def table(self, key: str, fields: Sequence[Field]) -> Entry | None:
        """Return the table within this one at *key*, or None and report what is wrong with it."""
        return self.read(key, lambda value, units: self._inner(key, value, fields, units), None)

    def _inner(self, key: str, value: Any, fields: Sequence[Field], units: Unit | None) -> Entry:
        outer = self._table_of(key)
        place = outer.place if outer else self.own.place
        return Entry(table_at(place / key, value, fields, units))

    def _table_of(self, key: str) -> Table | None:
        if key in self.own.values:
            return self.own
        return self.typical if self.typical and key in self.typical.values else None


def converted(place: Place, value: Any, units: Unit | None, convert: Convert[T], instead: T) -> T:
    """Return what *convert* makes of *value*, or *instead* and report why at *place*."""
    with place.collecting():
        try:
            return convert(value, units)
        except LengthError as error:
            raise Refusal("not-a-length", error.message, offset=error.offset) from error
    return instead


def size_of(value: Any, units: Unit | None) -> Size:
    """Return the size that a value says; raises LengthError."""
    return parse_size(str(value), units)


def amount(value: Any, units: Unit | None) -> Decimal:
    """Return a price; raises Refusal when it is negative, LengthError when it is vast."""
    number_of(value)
    if value < 0:
        raise Refusal("out-of-range", f"{value} is less than nothing")
    return Decimal(value)


def _caliper(value: Any, units: Unit | None) -> Length:
    return parse_caliper(value, units) if isinstance(value, str) else length_of(value, units)


def _within(length: Length, least: Length, most: Length) -> Length:
    if least <= length <= most:
        return length
    said = _plain_mm(length)
    raise Refusal(
        "out-of-range",
        f"{said} mm is outside {_plain_mm(least)} to {_plain_mm(most)} mm",
        'Check the unit: write it out, as in "0.24 mm".',
    )


def _plain_mm(length: Length) -> str:
    return f"{float(length.mm):.3f}".rstrip("0").rstrip(".")


def _as_written(value: Any) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, list):
        return ", ".join(_as_written(entry) for entry in value)
    if isinstance(value, dict):
        return ", ".join(f"{key} {_as_written(entry)}" for key, entry in value.items())
    return str(value)
