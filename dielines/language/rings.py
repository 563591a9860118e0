"""A ring of corners, and what is taken out of it again: idle corners, empty pieces, spikes.

Places are compared in floats: near enough to see what is straight, and much
faster than fractions. The corners that stay keep their exact coordinates.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from ..paths import Number, Point

TOUCH = 1e-6  #: mm; closer than this is the same place
#: sine of the angle up to which a way goes straight on; floats of a part stay below 1e-10
_STRAIGHT = 1e-9

Place = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Corner:
    """A corner of a ring with the bulge and the side of the edge that leaves it."""

    x: Number
    y: Number
    bulge: Number = Fraction(0)
    side: str = ""

    @property
    def point(self) -> Point:
        """The place of the corner."""
        return Point(self.x, self.y)

    @property
    def place(self) -> Place:
        """The place of the corner in floats."""
        return float(self.x), float(self.y)


def without_idle_corners(ring: Sequence[Corner]) -> tuple[Corner, ...]:
    """Return *ring* without corners that lie on the straight line between their neighbours."""
    kept = without_empty_pieces(ring)
    places = [corner.place for corner in kept]
    return tuple(c for i, c in enumerate(kept) if _straightness(kept, places, i) <= 0)


def without_empty_pieces(ring: Sequence[Corner]) -> tuple[Corner, ...]:
    """Return *ring* without corners that stand where the next one stands; arcs stay."""
    places = [corner.place for corner in ring]
    following = [*places[1:], *places[:1]]
    return tuple(
        corner
        for corner, here, after in zip(ring, places, following, strict=True)
        if corner.bulge or math.dist(here, after) >= TOUCH
    )


def without_spikes(ring: tuple[Corner, ...]) -> tuple[Corner, ...]:
    """Return *ring* without ways out and straight back, as a slot at the end of a fold leaves."""
    kept = without_empty_pieces(ring)
    while (i := _spike(kept)) is not None:
        kept = without_empty_pieces(_without_spike(kept, i))
    return kept


def _spike(ring: Sequence[Corner]) -> int | None:
    places = [corner.place for corner in ring]
    return next((i for i in range(len(ring)) if _straightness(ring, places, i) < 0), None)


def _straightness(ring: Sequence[Corner], places: Sequence[Place], i: int) -> int:
    """Return 1 where the way goes straight on at a corner, -1 where it goes straight back, else 0."""
    if ring[i - 1].bulge or ring[i].bulge:
        return 0
    (x0, y0), (x1, y1), (x2, y2) = places[i - 1], places[i], places[(i + 1) % len(places)]
    ax, ay, bx, by = x1 - x0, y1 - y0, x2 - x1, y2 - y1
    cross, along = ax * by - ay * bx, ax * bx + ay * by
    if abs(cross) > _STRAIGHT * math.hypot(ax, ay) * math.hypot(bx, by):
        return 0
    return (along > 0) - (along < 0)


def _without_spike(ring: tuple[Corner, ...], i: int) -> tuple[Corner, ...]:
    """Return *ring* without one corner; what is left of the longer way keeps its side."""
    before, here, after = ring[i - 1], ring[i], ring[(i + 1) % len(ring)]
    if math.dist(before.place, here.place) < math.dist(here.place, after.place):
        before = replace(before, side=here.side)
    place = (i - 1) % len(ring)
    return tuple(before if j == place else corner for j, corner in enumerate(ring) if j != i)
