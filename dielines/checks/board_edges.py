"""The edges of a board, in the flat coordinates of its outside, mm (floats)."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

from ..folding.case_places import BACK, FRONT

if TYPE_CHECKING:
    from shapely import Polygon

Place = tuple[float, float]

SHORTEST_EDGE = 3.0  #: mm; shorter pieces of an outline are no edge of a board
#: What the left and the right edge of a board are called, as one sees its outside.
_SIDES = {FRONT: ("spine edge", "fore-edge"), BACK: ("fore-edge", "spine edge")}
_SPINE_SIDES = ("edge at the back board", "edge at the front board")


@dataclass(frozen=True)
class BoardEdge:
    """An edge of a board; the board lies left of the way from *start* to *end*."""

    name: str
    start: Place
    end: Place

    @cached_property
    def length(self) -> float:
        """Its length."""
        return math.dist(self.start, self.end)

    @cached_property
    def along(self) -> Place:
        """The direction from start to end."""
        (x0, y0), (x1, y1) = self.start, self.end
        return (x1 - x0) / self.length, (y1 - y0) / self.length

    @property
    def out(self) -> Place:
        """The direction away from the board."""
        return self.along[1], -self.along[0]

    def beyond(self, place: Place) -> float:
        """Return how far *place* lies outside of the edge, below 0 on the board."""
        return sum(n * (p - s) for n, p, s in zip(self.out, place, self.start, strict=True))

    def run(self, place: Place) -> float:
        """Return how far along the edge *place* lies, from its start."""
        return sum(u * (p - s) for u, p, s in zip(self.along, place, self.start, strict=True))

    def moved_out(self, place: Place, by: float) -> Place:
        """Return *place* moved away from the board."""
        return place[0] + self.out[0] * by, place[1] + self.out[1] * by

    def lane(self, inner: float, outer: float) -> Polygon:
        """Return the rectangle along the edge from *inner* to *outer* (mm outside of it)."""
        from shapely import Polygon

        ends = (self.start, self.end)
        near = [self.moved_out(end, inner) for end in ends]
        return Polygon([*near, *(self.moved_out(end, outer) for end in reversed(ends))])


def edges_of(board: str, corners: Sequence[Place]) -> tuple[BoardEdge, ...]:
    """Return the edges of the board with the key *board*, whose corners run counter-clockwise."""
    ends = zip(corners, [*corners[1:], *corners[:1]], strict=True)
    pairs = [(a, b) for a, b in ends if math.dist(a, b) >= SHORTEST_EDGE]
    return tuple(BoardEdge(_edge_name(board, a, b), a, b) for a, b in pairs)


def _edge_name(board: str, start: Place, end: Place) -> str:
    dx, dy = end[0] - start[0], end[1] - start[1]
    if abs(dx) >= abs(dy):
        return "tail" if dx > 0 else "head"
    left, right = _SIDES.get(board, _SPINE_SIDES)
    return right if dy > 0 else left
