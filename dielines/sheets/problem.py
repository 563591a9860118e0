"""The layout of one stock as a problem in whole units."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from ..lengths import Length
from ..packing.order import Bed, Box, Order
from ..workshop.stock import Stock
from .prices import prices_of
from .rooms import Room, rooms_of
from .scale import Scale, scale_for
from .wanted import Wanted
from .way_of_cutting import Terms


@dataclass(frozen=True)
class Problem:
    """What one stock has to hold, and the rooms it has, in whole units."""

    wanted: tuple[Wanted, ...]
    too_large: tuple[Wanted, ...]
    rooms: tuple[Room, ...]
    scale: Scale
    gap: Length
    order: Order


def problem_of(wanted: Sequence[Wanted], stock: Stock, terms: Terms) -> Problem:
    """Return the problem of placing *wanted* on sheets of *stock*, in the largest unit that is exact.

    What fits no room is set aside, and a room that nothing fits is left out.
    """
    every, gap = rooms_of(stock, terms.reach), terms.gap
    lengths = [side for one in wanted for side in one.size]
    lengths += [side for room in every for side in room.size]
    scale = scale_for([*lengths, gap])
    rooms = tuple(
        room for room in every if _is_useful(_bed(room, 1, scale, gap), wanted, scale, gap)
    )
    prices = prices_of(rooms).of_rooms if rooms else ()
    beds = tuple(_bed(room, price, scale, gap) for room, price in zip(rooms, prices, strict=True))
    fitting = tuple(one for one in wanted if any(_fits(one.box(scale, gap), bed) for bed in beds))
    too_large = tuple(one for one in wanted if one not in fitting)
    boxes = tuple(one.box(scale, gap) for one in fitting)
    order = Order(boxes, tuple(one.count for one in fitting), beds)
    return Problem(fitting, too_large, rooms, scale, gap, order)


def _bed(room: Room, price: int, scale: Scale, gap: Length) -> Bed:
    return Bed(
        scale.down(room.size.across + gap),
        scale.down(room.size.up + gap),
        price,
        room.sheet.have,
        turns_all=room.turns_all,
    )


def _is_useful(bed: Bed, wanted: Sequence[Wanted], scale: Scale, gap: Length) -> bool:
    """Return whether anything at all that is wanted fits the sheet."""
    return any(_fits(one.box(scale, gap), bed) for one in wanted)


def _fits(box: Box, bed: Bed) -> bool:
    if box.width <= bed.width and box.height <= bed.height:
        return True
    may_turn = box.may_turn or bed.turns_all
    return may_turn and box.height <= bed.width and box.width <= bed.height
