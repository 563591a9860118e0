"""The nouns of a tape plan: strips, the zones that they fill, totals. Lengths are exact."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from enum import Enum
from fractions import Fraction

from ..lengths import ZERO, Length
from ..part import Side
from ..paths import Path

SQUARE_DEG = 90.0


class Cut(Enum):
    """How an end of a strip is cut."""

    SQUARE = "square"
    ANGLED = "angled"  #: straight, at an angle
    SHAPED = "shaped"  #: along the shape of its zone, which has a corner or an arc there


@dataclass(frozen=True, slots=True)
class End:
    """An end of a strip; *angle_deg* is that between the cut and the edges of the tape."""

    cut: Cut = Cut.SQUARE
    angle_deg: float = SQUARE_DEG


@dataclass(frozen=True, slots=True)
class Strip:
    """A piece of tape as it lies in a zone.

    *offset* is from the left edge of the zone (from its lower edge, where strips
    run across). *length* is what is cut off the roll, *short_edge* the shorter of
    its two edges. *path* is its place on the flat part, *area* (mm2) what of it is
    left once its ends are cut.
    """

    zone: str
    width: Length
    length: Length
    short_edge: Length
    offset: Length
    ends: tuple[End, End]  #: lower and upper; left and right where strips run across
    path: Path
    area: Fraction

    @property
    def cut_off(self) -> Fraction:
        """What is cut off its ends, mm2."""
        return self.width.mm * self.length.mm - self.area


class Way(Enum):
    """Which way the strips of a zone run, as the part lies."""

    UP = "up"
    ACROSS = "across"
    SLANTED = "slanted"  #: along the longest edge of the zone


@dataclass(frozen=True, slots=True)
class ZonePlan:
    """The strips that fill one zone of each part of a letter, side by side.

    *room* is how wide the zone is where strips lie side by side; *area* is that of
    the zone, mm2. Without *strips* the zone is narrower than any tape.
    """

    letter: str
    titles: tuple[str, ...]
    key: str  #: of the first part of the letter
    panel: str
    side: Side
    zone: str
    number: int  #: of parts, copies and spares included
    way: Way
    room: Length
    extent: Length  #: the longest that the zone is along its strips
    area: Fraction
    strips: tuple[Strip, ...]

    @property
    def gap(self) -> Length:
        """What remains of the room beside and between the strips."""
        return sum((-strip.width for strip in self.strips), self.room)

    @property
    def bare(self) -> Fraction:
        """What of the zone no strip covers, mm2."""
        return self.area - sum(strip.area for strip in self.strips)

    @property
    def bare_share(self) -> float:
        """The same as a share of the zone, 0 to 1."""
        return float(self.bare / self.area) if self.area else 0.0


@dataclass(frozen=True, slots=True)
class WidthTotal:
    """All that is needed of one width, copies and spares included.

    *rolls* is None where the length of a roll is unknown, *price* where that or its
    price is unknown.
    """

    width: Length
    pieces: int
    length: Length
    cut_off: Fraction  #: mm2
    rolls: int | None
    price: Decimal | None


@dataclass(frozen=True)
class TapePlan:
    """The strips of all zones of a book, by letter, and how much tape of each width they take."""

    tape: str
    zones: tuple[ZonePlan, ...]
    totals: tuple[WidthTotal, ...]

    @property
    def unfilled(self) -> tuple[ZonePlan, ...]:
        """The zones for which there is no tape narrow enough."""
        return tuple(zone for zone in self.zones if not zone.strips)

    @property
    def area(self) -> Fraction:
        """The area of all zones, mm2."""
        return sum((zone.area * zone.number for zone in self.zones), Fraction(0))

    @property
    def bare(self) -> Fraction:
        """What of all zones no strip covers, mm2."""
        return sum((zone.bare * zone.number for zone in self.zones), Fraction(0))

    @property
    def cut_off(self) -> Fraction:
        """What is cut off all strips, mm2."""
        return sum((total.cut_off for total in self.totals), Fraction(0))

    @property
    def length(self) -> Length:
        """The length of all strips."""
        return sum((total.length for total in self.totals), ZERO)

    def of(self, letter: str) -> Iterator[ZonePlan]:
        """Yield the zones of one letter."""
        return (zone for zone in self.zones if zone.letter == letter)
