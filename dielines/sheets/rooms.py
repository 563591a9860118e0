"""What of each sheet can be used: how it lies, what stays bare, which rooms are worth trying."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from ..lengths import Length
from ..workshop.reach import Reach
from ..workshop.sizes import Size
from ..workshop.stock import Grain, Sheet, Stock


@dataclass(frozen=True)
class Room:
    """The part of a sheet that can be cut.

    *sheet* lies so that its grain runs up, or as it is printed where its print keeps
    it upright. *margin* is what stays bare at the left and below. *is_fed_turned*: the
    machine takes the sheet turned by a quarter.
    """

    sheet: Sheet
    size: Size
    margin: Length
    is_fed_turned: bool = False
    is_missing: bool = False  #: one more than the person has
    turns_all: bool = False  #: neither grain nor print asks how a part lies

    @property
    def is_only_a_part(self) -> bool:
        """Whether the machine reaches less of the sheet than lies between its margins."""
        whole = [side - self.margin * 2 for side in self.sheet.size]
        return any(mine < all_ for mine, all_ in zip(self.size, whole, strict=True))


def rooms_of(stock: Stock, reach: Reach) -> tuple[Room, ...]:
    """Return the rooms of all sheets of *stock*, those left out that another one of the sheet holds.

    Where only so many sheets are there, and none that could take their place, one
    more of each is among them, marked as missing.
    """
    upright = stock.keeps_upright
    rooms = [
        replace(room, turns_all=sheet.grain is Grain.NONE and not upright)
        for sheet in stock.sheets
        for room in _rooms(lying(sheet, upright), reach)
    ]
    endless = [room for room in rooms if room.sheet.have is None]
    return (*rooms, *(_missing(room) for room in rooms if not _has_like(room, endless)))


def _has_like(room: Room, endless: Sequence[Room]) -> bool:
    """Return whether there are sheets without end on which all lies that lies on this one."""
    return any(_holds(other.size, room.size) for other in endless)


def _missing(room: Room) -> Room:
    """Return the room of a sheet like this one that the person would have to get."""
    return replace(room, sheet=replace(room.sheet, have=None), is_missing=True)


def lying(sheet: Sheet, keeps_upright: bool) -> Sheet:
    """Return *sheet* as it lies on the table: its grain up, unless its print says otherwise."""
    return sheet.turned if sheet.grain is Grain.ACROSS and not keeps_upright else sheet


def _rooms(sheet: Sheet, reach: Reach) -> Sequence[Room]:
    as_it_lies, fed_turned = reach.within(sheet), reach.within(sheet.turned).turned
    if _holds(as_it_lies, fed_turned):
        return [Room(sheet, as_it_lies, reach.margin)]
    turned = Room(sheet, fed_turned, reach.margin, is_fed_turned=True)
    if _holds(fed_turned, as_it_lies):
        return [turned]
    both = [Room(sheet, as_it_lies, reach.margin), turned]
    # Two rooms of a sheet of which there are only so many would let each be used twice.
    return both if sheet.have is None else [max(both, key=_area)]


def _area(room: Room) -> Fraction:
    return room.size.across.mm * room.size.up.mm


def _holds(room: Size, other: Size) -> bool:
    return other.across <= room.across and other.up <= room.up
