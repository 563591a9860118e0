"""Where a join puts one panel over another, and by how much two places disagree."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from typing import NamedTuple

from ..bindings.bound import Join
from ..part import Side
from ..paths import Bounds, Number, Point, bounds_of
from ..rigid import Pose, relative
from .folded_part import FoldedPart


class Coat(NamedTuple):
    """What lies on a side of a panel: where on the flat part, how thick, and which part it is."""

    box: Bounds
    thickness: Fraction
    key: str


Coats = Mapping[tuple[str, str, Side], Sequence[Coat]]
"""What lies on the sides of panels, by part, panel and side."""

#: The rows of a turn by 0, 90, 180 and 270 degrees, counter-clockwise.
_QUARTERS = ((1, 0, 0, 1), (0, -1, 1, 0), (-1, 0, 0, -1), (0, 1, -1, 0))

SAME = 0.001  #: mm; sizes that differ by less are the same


@dataclass(frozen=True, slots=True)
class Mismatch:
    """By how much a join outside the tree misses what the others make of the book.

    *in_plane* is how far (mm) the middle of its tape lies beside its place on the
    target, *shift* the same in the target's flat coordinates; *along_normal* how much
    farther (mm) it is from the target than its tape is thick, below 0 where it reaches
    into it; *angle_deg* how far it is turned from how it should lie.
    """

    join: Join
    in_plane: float
    along_normal: float
    angle_deg: float
    shift: Point


@dataclass(frozen=True)
class Bench:
    """What places are worked out from: the parts as they are folded, and what lies between them."""

    parts: Mapping[str, FoldedPart]
    calipers: Mapping[str, Fraction]
    tape: Fraction
    coats: Coats
    #: What was worked out before, by part and zone, and by join; many ask for the same.
    _boxes: dict[tuple[str, str], Bounds] = field(default_factory=dict, repr=False, compare=False)
    _heights: dict[int, Number] = field(default_factory=dict, repr=False, compare=False)

    def zone_box(self, join: Join) -> Bounds:
        """Return the bounds of the tape of a join on its own flat part."""
        key = join.part, join.zone
        if key not in self._boxes:
            zones = self.parts[join.part].part.zones
            path = next(zone.path for zone in zones if zone.name == join.zone)
            self._boxes[key] = bounds_of([path])
        return self._boxes[key]

    def height(self, join: Join) -> Number:
        """Return how far apart the middles of two joined panels lie: half of each, tape, coats."""
        if join.order not in self._heights:
            self._heights[join.order] = self._height(join)
        return self._heights[join.order]

    def _height(self, join: Join) -> Number:
        own = self.coats.get((join.part, join.panel, join.side), ())
        onto = self.coats.get((join.onto_part, join.onto_panel, join.onto_side), ())
        between = _thickest(own, self.zone_box(join), join) + _thickest(
            onto, landing_box(join), join
        )
        middles = (self.calipers[join.part] + self.calipers[join.onto_part]) / 2
        return middles + self.tape + between


def _thickest(coats: Sequence[Coat], box: Bounds, join: Join) -> Fraction:
    thick = [c.thickness for c in coats if c.key != join.part and _share(c.box, box)]
    return max(thick, default=Fraction(0))


def _share(a: Bounds, b: Bounds) -> bool:
    return a.left < b.right and b.left < a.right and a.bottom < b.top and b.bottom < a.top


def landing_box(join: Join) -> Bounds:
    """Return the rectangle that the tape of a join covers, in the target's flat coordinates."""
    x, y = join.offset
    return Bounds(x, y, x + join.width, y + join.height)


def is_whole(join: Join, zone: Bounds) -> bool:
    """Return whether the whole zone lies on the target, not just a share of it."""
    sizes = sorted(map(float, (join.width, join.height)))
    wanted = sorted(map(float, (zone.width, zone.height)))
    return all(abs(a - b) <= SAME for a, b in zip(sizes, wanted, strict=True))


def quarters_of(join: Join, zone: Bounds) -> tuple[int, ...]:
    """Return by how many quarter turns the zone may lie turned on its target, likeliest first."""
    is_upright = abs(float(join.width - zone.width)) <= SAME
    is_turned = abs(float(join.width - zone.height)) <= SAME
    if is_upright == is_turned:
        return (0, 2, 1, 3)
    return (0, 2) if is_upright else (1, 3)


def lying(join: Join, zone: Bounds, height: Number, quarter: int = 0) -> Pose:
    """Return the pose of the joined panel in the drawing of its target.

    Like sides lie turned over on each other, about an upright axis; opposite sides
    do not. *quarter* counts quarter turns made before that, counter-clockwise. The
    middle of the zone comes to lie in the middle of the place that the join names.
    """
    a, b, c, d = _QUARTERS[quarter]
    is_turned_over = join.side is join.onto_side
    if is_turned_over:
        a, b = -a, -b
    target = landing_box(join)
    from_x, from_y = middle(zone)
    to_x, to_y = middle(target)
    z = height if join.onto_side is Side.FACE else -height
    move = (to_x - a * from_x - b * from_y, to_y - c * from_x - d * from_y, z)
    return Pose(((a, b, 0), (c, d, 0), (0, 0, -1 if is_turned_over else 1)), move)


def middle(box: Bounds) -> Point:
    """Return the middle of a rectangle."""
    return Point((box.left + box.right) / 2, (box.bottom + box.top) / 2)


def mismatch_of(join: Join, zone: Bounds, wanted: Pose, pose: Pose, target: Pose) -> Mismatch:
    """Return by how much a panel at *pose* misses *wanted*, its pose in the drawing of *target*."""
    there = relative(target, pose)
    at, should = there.at(middle(zone)), wanted.at(middle(zone))
    x, y, z = (float(a - b) for a, b in zip(at, should, strict=True))
    away = z if join.onto_side is Side.FACE else -z
    return Mismatch(join, math.hypot(x, y), away, angle_between(there, wanted), Point(x, y))


def angle_between(pose: Pose, other: Pose) -> float:
    """Return by how much one pose is turned against another, degrees, 0 to 180."""
    trace = sum(
        float(a * b)
        for row, beside in zip(pose.rotation, other.rotation, strict=True)
        for a, b in zip(row, beside, strict=True)
        if a and b
    )
    return math.degrees(math.acos(min(1.0, max(-1.0, (trace - 1) / 2))))


def shifted(dx: Number, dy: Number, dz: Number) -> Pose:
    """Return the motion by so much, without a turn."""
    return Pose(((1, 0, 0), (0, 1, 0), (0, 0, 1)), (dx, dy, dz))
