"""Outlines of parts in whole units, and what is to be laid on a strip."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import NamedTuple

from dielines.packing.order import Placed

Point = tuple[int, int]
Ring = tuple[Point, ...]  #: corners in order; the last one is joined to the first


class Outline(NamedTuple):
    """The exterior of a part, and the holes in it; both may run either way round."""

    exterior: Ring
    holes: tuple[Ring, ...] = ()

    @property
    def rings(self) -> tuple[Ring, ...]:
        """The exterior first, then the holes."""
        return (self.exterior, *self.holes)

    @property
    def twice_area(self) -> int:
        """Twice the area in square units, so that it is whole."""
        return abs(twice_area(self.exterior)) - sum(abs(twice_area(ring)) for ring in self.holes)

    @property
    def size(self) -> Point:
        """Width and height."""
        return span(x for x, _ in self.exterior), span(y for _, y in self.exterior)

    def lying(self, quarters: int) -> Outline:
        """Return it turned counter-clockwise, with the lower left corner of its bounds at (0, 0).

        >>> Outline(((0, 0), (3, 0), (0, 2))).lying(1).exterior
        ((2, 0), (2, 3), (0, 0))
        """
        rings = [_turned(ring, quarters) for ring in self.rings]
        left = min(x for x, _ in rings[0])
        bottom = min(y for _, y in rings[0])
        moved = [tuple((x - left, y - bottom) for x, y in ring) for ring in rings]
        return Outline(moved[0], tuple(moved[1:]))


@dataclass(frozen=True)
class StripOrder:
    """Kinds of part, how many of each, and a strip of endless length.

    x runs along the strip. Parts lie on points that are a *pitch* apart: the smaller
    it is, the closer they come and the longer it takes.
    """

    outlines: tuple[Outline, ...]
    turns: tuple[tuple[int, ...], ...]  #: quarter turns in which each kind may lie
    counts: tuple[int, ...]  #: of each kind
    width: int  #: of the strip
    pitch: int = 1
    gap: int = 0  #: between parts; they may touch the edges of the strip


@dataclass(frozen=True)
class Strip:
    """Where all parts lie, and the length that they take."""

    placed: tuple[Placed, ...]
    length: int


def twice_area(ring: Ring) -> int:
    """Return twice the area that a ring encloses; positive where it runs counter-clockwise.

    >>> twice_area(((0, 0), (3, 0), (0, 2)))
    6
    """
    following = (*ring[1:], *ring[:1])
    return sum(x * v - u * y for (x, y), (u, v) in zip(ring, following, strict=True))


def span(values: Iterable[int]) -> int:
    """Return the largest value less the smallest one."""
    row = tuple(values)
    return max(row) - min(row)


def length_bound(order: StripOrder) -> int:
    """Return a length below which no strip can be: the area of the parts, or the longest part."""
    kinds = range(len(order.outlines))
    twice = sum(order.outlines[kind].twice_area * order.counts[kind] for kind in kinds)
    longest = [_least_width(order, kind) for kind in kinds if order.counts[kind]]
    return max([-(-twice // (2 * order.width)), *longest])


def _least_width(order: StripOrder, kind: int) -> int:
    outline = order.outlines[kind]
    lying = [outline.lying(quarters).size for quarters in order.turns[kind]]
    return min((wide for wide, high in lying if high <= order.width), default=0)


def _turned(ring: Ring, quarters: int) -> Ring:
    for _ in range(quarters % 4):
        ring = tuple((-y, x) for x, y in ring)
    return ring
