"""Outlines onto one sheet, one after the other, each as far into a corner as it goes."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from ..cells import Shape
from ..order import Filled, Filler, Order, Work
from .lying import Sheet
from .raster import Corner, Raster, Rasters, rasters_of


class Wish(NamedTuple):
    """A part to lay down and the corner towards which it goes."""

    kind: int
    corner: Corner = Corner.LOW_LEFT


def outline_filler(order: Order, shapes: tuple[Shape, ...], cell: int = 1) -> Filler:
    """Return a filler that lays outlines down, into notches and windows of others as well.

    *shapes*: of each kind of box, its cells in the turns in which it may lie, a *cell*
    being so many units of the order. Each part takes the place, of all its turns, where
    its upper edge is lowest.
    """
    return lowest_filler(rasters_of(order, shapes, cell))


def lowest_filler(rasters: Rasters) -> Filler:
    """Return the filler of ``outline_filler`` on rasters that others use too."""

    def fill(kinds: Sequence[int], bed: int, work: Work) -> Filled:
        return filled(rasters(bed), [Wish(kind) for kind in kinds], work)

    return fill


def filled(raster: Raster, wishes: Sequence[Wish], work: Work) -> Filled:
    """Return what comes to lie on a sheet, part after part in the order given."""
    sheet = Sheet(raster, work)
    has_room = [True] * len(raster.of_kind)
    left = []
    for position, (kind, corner) in enumerate(wishes):
        has_room[kind] = has_room[kind] and lay(sheet, kind, corner)
        if not has_room[kind]:
            left.append(position)
    work.spend(1 + len(wishes))
    return Filled(sheet.placed(), tuple(left))


def lay(sheet: Sheet, kind: int, corner: Corner) -> bool:
    """Lay a part in the turn that goes farthest into the corner; return whether it fits at all."""
    best: tuple[int, int, int, int] | None = None
    for stance in sheet.raster.of_kind[kind]:
        place = sheet.free_place(stance, corner)
        if place is not None:
            found = (*sheet.raster.reach(stance, place, corner), stance, place)
            best = min(best or found, found)
    if best is None:
        return False
    sheet.put(best[2], best[3])
    return True
