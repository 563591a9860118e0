"""Outlines onto one sheet, one after the other, each as far into a corner as it goes."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import NamedTuple

from ..cells import Shape
from ..order import Filled, Filler, Order, Placed, Work
from .raster import Corner, Raster, Sheet


class Wish(NamedTuple):
    """A part to lay down and the corner towards which it goes."""

    kind: int
    corner: Corner = Corner.LOW_LEFT


def outline_filler(order: Order, shapes: tuple[Shape, ...]) -> Filler:
    """Return a filler that lays outlines down, into notches and windows of others as well.

    *shapes*: of each kind of box, its cells in the turns in which it may lie; one
    unit of the order is one cell. Each part takes the place, of all its turns, where
    its upper edge is lowest.
    """
    raster = rasters_of(order, shapes)

    def fill(kinds: Sequence[int], bed: int, work: Work) -> Filled:
        return filled(raster(bed), [Wish(kind) for kind in kinds], work)

    return fill


def rasters_of(order: Order, shapes: tuple[Shape, ...]) -> Callable[[int], Raster]:
    """Return what gives the raster of each kind of sheet, made when it is first asked for."""
    made: dict[int, Raster] = {}

    def raster(bed: int) -> Raster:
        if bed not in made:
            made[bed] = Raster(order, shapes, bed)
        return made[bed]

    return raster


def filled(raster: Raster, wishes: Sequence[Wish], work: Work) -> Filled:
    """Return what comes to lie on a sheet, part after part in the order given."""
    sheet = Sheet(raster, work)
    has_room = [True] * len(raster.of_kind)
    left = []
    for position, (kind, corner) in enumerate(wishes):
        has_room[kind] = has_room[kind] and _laid(sheet, kind, corner)
        if not has_room[kind]:
            left.append(position)
    work.spend(len(wishes))
    return Filled(placed_on(sheet), tuple(left))


def _laid(sheet: Sheet, kind: int, corner: Corner) -> bool:
    """Lay a part in the turn that goes farthest into the corner; return whether it fits at all."""
    best: tuple[int, int, int, int] | None = None
    for stance in sheet.raster.of_kind[kind]:
        place = sheet.free_place(stance, corner)
        if place is not None:
            far = sheet.raster.reach(stance, place, corner)
            best = min(best or (*far, stance, place), (*far, stance, place))
    if best is None:
        return False
    sheet.put(best[2], best[3])
    return True


def placed_on(sheet: Sheet) -> tuple[Placed, ...]:
    """Return what lies on a sheet."""
    found = []
    for number, place in sheet.lying:
        stance = sheet.raster.stances[number]
        y, x = divmod(place, sheet.raster.width)
        found.append(Placed(stance.kind, x, y, stance.quarters))
    return tuple(found)
