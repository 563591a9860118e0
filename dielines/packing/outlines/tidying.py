"""The same parts on a sheet, but low down, so that what is left of it is one piece."""

from __future__ import annotations

from collections.abc import Iterator

from ..order import Order, Pattern, Placed, Plan, Work
from .filler import Wish, filled, lay
from .lying import Sheet
from .raster import Corner, Raster, Rasters

PASSES = 4


def tidied_plan(order: Order, plan: Plan, rasters: Rasters, work: Work) -> Plan:
    """Return the plan with each sheet as ``tidied`` leaves it."""
    runs = (
        (tidied(order, pattern, rasters(pattern.bed), work), times) for pattern, times in plan.runs
    )
    return Plan(tuple(runs), plan.bound, plan.is_open)


def tidied(order: Order, pattern: Pattern, raster: Raster, work: Work) -> Pattern:
    """Return a sheet with the same parts that ends lower, or else *pattern* as it is.

    The upper edges count, the highest first, and then how high all parts lie together.
    A sheet that is cut from edge to edge stays as it is.
    """
    best = pattern
    for placed in _tried(order, pattern, raster, work) if pattern.cuts is None else ():
        other = Pattern(pattern.bed, _settled(placed, raster, work))
        if _height(order, other) < _height(order, best):
            best = other
    return best


def _tried(
    order: Order, pattern: Pattern, raster: Raster, work: Work
) -> Iterator[tuple[Placed, ...]]:
    """Yield the parts as they lie, and laid down anew from below where all find room."""
    yield pattern.placed
    for wishes in _orders(order, pattern):
        found = filled(raster, wishes, work)
        if not found.left:
            yield found.placed


def _settled(placed: tuple[Placed, ...], raster: Raster, work: Work) -> tuple[Placed, ...]:
    """Return the parts after each has gone to the lowest place left by the others, and again."""
    parts = list(placed)
    for _ in range(PASSES):
        before = list(parts)
        for number in sorted(range(len(parts)), key=lambda i: (before[i].y, before[i].x, i)):
            parts[number] = _sunk(parts, number, raster, work)
        if parts == before:
            break
    return tuple(parts)


def _sunk(parts: list[Placed], number: int, raster: Raster, work: Work) -> Placed:
    """Return one of the parts at its lowest place; as it is where some lie off the grid."""
    sheet = Sheet(raster, work)
    for other in (*parts[:number], *parts[number + 1 :]):
        lying = raster.place_of(other)
        if lying is None:
            return parts[number]
        sheet.put(*lying)
    if not lay(sheet, parts[number].kind, Corner.LOW_LEFT):
        return parts[number]
    return sheet.placed()[-1]


def _orders(order: Order, pattern: Pattern) -> Iterator[list[Wish]]:
    """Yield the parts from the lowest up, and the largest first."""
    upwards = sorted(pattern.placed, key=lambda part: (part.y, part.x, part.kind))
    yield [Wish(part.kind) for part in upwards]
    yield [Wish(part.kind) for part in sorted(upwards, key=lambda part: _size(order, part))]


def _size(order: Order, part: Placed) -> tuple[int, int]:
    return -order.boxes[part.kind].area, part.kind


def _height(order: Order, pattern: Pattern) -> tuple[int, int]:
    """Return how high a sheet is used, and how high its parts lie together."""
    tops = [part.y + order.boxes[part.kind].lying(part.quarters)[1] for part in pattern.placed]
    return max(tops, default=0), sum(tops)
