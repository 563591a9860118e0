"""The corners of coverings that turn in all round: how their cuts meet once they are folded in.

At a corner of the angle 2h a cut that passes it at the distance d, at the angle h with its
edge, ends on the mirror image of the corner's bisector. Folded round a board that is t
thick, the turn-in reaches (d - t cos h) / sin h beyond the bisector, along its edge: at a
square corner sqrt(2) d - t (derived). Both are measured where the turn-in
comes to the inside and at its far edge, so that cuts at another angle are seen as well.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from ..language.wraps import TURN_IN
from ..part import Panel, Part
from ..paths import Point, flattened
from .board_edges import BoardEdge, Place
from .flat_shapes import SAGITTA

_NUMBERED = re.compile(rf"{TURN_IN}(\d+)")
_PARALLEL = 1e-9
_NEARLY = 0.01  #: mm


@dataclass(frozen=True)
class Flap:
    """A turn-in of a wrap: its fold as an edge of the boards, and the corners of its outline."""

    panel: str
    edge: BoardEdge
    corners: tuple[Place, ...]

    @property
    def depth(self) -> float:
        """How far it reaches beyond its fold."""
        return max(self.edge.beyond(place) for place in self.corners)


@dataclass(frozen=True)
class WrapCorner:
    """Two turn-ins at a corner, and how far each reaches beyond the bisector, mm along its edge.

    *reaches* has both turn-ins, each at the board's edge and at its far edge.
    """

    first: Flap
    second: Flap
    place: Point
    half_deg: float  #: half of the angle of the corner
    thick: float
    reaches: tuple[tuple[float, float], tuple[float, float]]

    @property
    def overlap(self) -> float:
        """How much both reach over each other at most, as a mean of both."""
        return max(sum(pair) / 2 for pair in zip(*self.reaches, strict=True))

    @property
    def gap(self) -> float:
        """How much is bare between them at most, as a mean of both; 0 without a gap."""
        return max(0.0, *(-sum(pair) / 2 for pair in zip(*self.reaches, strict=True)))

    @property
    def allowance(self) -> float:
        """The distance d from the board's corner to the cuts that the overlap stands for, mm."""
        half = math.radians(self.half_deg)
        return self.overlap * math.sin(half) + self.thick * math.cos(half)


def flaps_of(part: Part) -> list[Flap]:
    """Return the turn-ins of a wrap, counter-clockwise; none of a part that is no wrap."""
    numbered = [
        (int(found[1]), panel)
        for panel in part.panels
        if (found := _NUMBERED.fullmatch(panel.name))
    ]
    flaps = (_flap(part, panel) for _, panel in sorted(numbered, key=lambda item: item[0]))
    return [flap for flap in flaps if flap is not None]


def wrap_corners(part: Part, thick: float) -> Iterator[WrapCorner]:
    """Yield the corners of a wrap around boards that are *thick* (mm)."""
    flaps = flaps_of(part)
    for first, second in zip(flaps, [*flaps[1:], *flaps[:1]], strict=True):
        corner = _meeting(first.edge, second.edge) if len(flaps) > 1 else None
        if corner is not None:
            yield _corner(first, second, corner, thick)


def _flap(part: Part, panel: Panel) -> Flap | None:
    """Return a turn-in; its fold runs so that the boards lie left of it."""
    ends = [
        point
        for line in part.folds
        if panel.name in line.key.panels() and line.angle_deg
        for piece in line.pieces
        for point in flattened(piece, SAGITTA)
    ]
    if not ends:
        return None
    start = min(ends)
    end = max(ends, key=lambda place: math.dist(start, place))
    corners = tuple(flattened(panel.outline, SAGITTA))
    edge = BoardEdge(panel.name, start, end)
    middle = max(corners, key=lambda place: abs(edge.beyond(place)))
    if edge.beyond(middle) < 0:
        edge = BoardEdge(panel.name, end, start)
    return Flap(panel.name, edge, corners)


def _meeting(edge: BoardEdge, other: BoardEdge) -> Place | None:
    """Return where the lines of two edges cross; None where they are parallel."""
    (ux, uy), (vx, vy) = edge.along, other.along
    turn = ux * vy - uy * vx
    if abs(turn) < _PARALLEL:
        return None
    dx, dy = other.start[0] - edge.start[0], other.start[1] - edge.start[1]
    way = (dx * vy - dy * vx) / turn
    return edge.start[0] + ux * way, edge.start[1] + uy * way


def _corner(first: Flap, second: Flap, corner: Place, thick: float) -> WrapCorner:
    (ux, uy), (vx, vy) = first.edge.along, second.edge.along
    half = (math.pi - math.atan2(ux * vy - uy * vx, ux * vx + uy * vy)) / 2
    cot = 1 / math.tan(half)
    reaches = (
        _reaches(_from_corner(first, corner, -1), cot, thick),
        _reaches(_from_corner(second, corner, 1), cot, thick),
    )
    return WrapCorner(first, second, Point(*corner), math.degrees(half), thick, reaches)


def _from_corner(flap: Flap, corner: Place, sign: int) -> list[Place]:
    """Return the outline of a turn-in as (from the corner along the edge, beyond the edge)."""
    zero = flap.edge.run(corner)
    return [(sign * (flap.edge.run(p) - zero), flap.edge.beyond(p)) for p in flap.corners]


def _reaches(outline: Sequence[Place], cot: float, thick: float) -> tuple[float, float]:
    """Return how far a turn-in reaches beyond the bisector at the board's edge and at its far edge."""
    depth = max(beyond for _, beyond in outline)
    low, high = min(thick, depth), depth
    at_edge, at_end = (_nearest_at(outline, beyond) for beyond in (low, high))
    return (low - thick) * cot - at_edge, (high - thick) * cot - at_end


def _nearest_at(outline: Sequence[Place], beyond: float) -> float:
    """Return how near to the corner, along the edge, the outline comes at this distance from it."""
    found = []
    for (x0, y0), (x1, y1) in zip(outline, [*outline[1:], *outline[:1]], strict=True):
        if min(y0, y1) - _NEARLY <= beyond <= max(y0, y1) + _NEARLY:
            share = (beyond - y0) / (y1 - y0) if abs(y1 - y0) > _NEARLY else 0.0
            found += [x0 + (x1 - x0) * min(max(share, 0.0), 1.0)]
            if abs(y1 - y0) <= _NEARLY:
                found.append(x1)
    return min(found)
