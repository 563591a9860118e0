"""Notches and other bays in the outline of a panel: where it is not convex."""

from __future__ import annotations

from collections.abc import Iterator
from math import hypot
from typing import Any, NamedTuple

from ..folding.folded_part import FoldedPart
from ..folding.lids import motion_to
from ..paths import flattened

SAGITTA = 0.02  #: mm, how far a chord lies from its arc
LEAST_AREA = 1.0  #: mm2; smaller bays are rounding


class Bay(NamedTuple):
    """A bay: its shape in the flat coordinates asked for, its middle and area (mm, mm2)."""

    panel: str
    shape: Any
    x: float
    y: float
    area: float

    @property
    def width(self) -> float:
        """The larger of its extents."""
        left, bottom, right, top = self.shape.bounds
        return float(max(right - left, top - bottom))

    def distance(self, other: Bay) -> float:
        """Return how far the middles of two bays are apart."""
        return hypot(self.x - other.x, self.y - other.y)


def bays_of(folded: FoldedPart, panel: str, onto: str) -> Iterator[Bay]:
    """Yield the bays of a panel where they come to lie on the panel *onto*."""
    from shapely import Polygon, get_parts

    outline = folded.outlines[panel]
    if len(outline.vertices) < 5:
        return
    motion = motion_to(folded, onto, panel)
    corners = [motion.at(point)[:2] for point in flattened(outline, SAGITTA)]
    shape = Polygon([(float(x), float(y)) for x, y in corners])
    for piece in get_parts(shape.convex_hull.difference(shape)):
        if piece.area > LEAST_AREA:
            centre = piece.centroid
            yield Bay(panel, piece, centre.x, centre.y, piece.area)
