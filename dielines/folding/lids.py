"""The two lids of a pocket: its front, and its back with everything joined to it in its plane.

The back alone would not do: where it is a little short, the seam covers the gap.
Seen in the flat coordinates of the front; heights count into the pocket, mm.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property
from typing import Any

from ..landing import PARALLEL, Landing, landing_of
from ..part import LineKind, Part, Side, Zone
from ..paths import Number, Path, flattened
from ..rigid import Pose, in_floats, relative
from .folded_part import FoldedPart
from .keeping import kept_with
from .pockets import NEAR, Pocket, pockets_of

SAGITTA = 0.1  #: mm, how far a chord lies from its arc

#: The share of a zone that has to land on its target for it to hold there.
HELD = Fraction(1, 20)

Flat = tuple[float, float]


@dataclass(frozen=True)
class Lids:
    """The panels on both sides of a pocket. *depth* is that of the shallowest part of it."""

    folded: FoldedPart
    pocket: Pocket
    fronts: frozenset[str]
    backs: frozenset[str]
    depth: float

    @property
    def is_flat(self) -> bool:
        """Whether front and back lie on each other."""
        return self.depth <= NEAR

    @cached_property
    def room(self) -> Any:
        """The area that front and back have in common, on the front."""
        from shapely import intersection, union_all

        shapes = [[self._shape(name) for name in sorted(lid)] for lid in (self.fronts, self.backs)]
        front, back = (lid[0] if len(lid) == 1 else union_all(lid) for lid in shapes)
        return intersection(front, back)

    def _shape(self, name: str) -> Any:
        from shapely import Polygon

        shape = Polygon(on_front(self.folded, self.pocket, name, self.folded.outlines[name]))
        return shape if shape.is_valid else shape.buffer(0)


def lids_of(folded: FoldedPart, pocket: Pocket) -> Lids:
    """Return both lids of a pocket."""
    still = list(still_pairs(folded.part))
    fronts = tied(pocket.front, still)
    inside = {
        name: height
        for name, height in _heights(folded, pocket)
        if name not in fronts and _is_inside(folded, pocket, name, height)
    }
    ties = [pair for pair in [*still, *_held_pairs(folded)] if inside.keys() >= set(pair)]
    backs = tied(pocket.back, ties)
    depth = min(inside.get(name, 0.0) for name in backs)
    return Lids(folded, pocket, fronts, backs, depth if depth > NEAR else 0.0)


def on_front(folded: FoldedPart, pocket: Pocket, name: str, path: Path) -> list[Flat]:
    """Return where the corners of a path on a panel lie on the front, dropped along its normal."""
    motion = motion_to_front(folded, pocket, name)
    return [(float(x), float(y)) for x, y, _ in map(motion.at, flattened(path, SAGITTA))]


def motion_to_front(folded: FoldedPart, pocket: Pocket, name: str) -> Pose:
    """Return the motion of a panel's drawing into that of the front."""
    return motion_to(folded, pocket.front, name)


def motion_to(folded: FoldedPart, onto: str, name: str) -> Pose:
    """Return the motion of a panel's drawing into that of the panel *onto*, in floats."""
    return kept_with(
        folded,
        ("motion", onto, name),
        lambda: relative(_float_pose(folded, onto), _float_pose(folded, name)),
    )


def _float_pose(folded: FoldedPart, name: str) -> Pose:
    return kept_with(folded, ("float pose", name), lambda: in_floats(folded.poses[name]))


def into(pocket: Pocket, height: Number) -> float:
    """Return a height above the front's face as one into the pocket."""
    return float(height) if pocket.inside is Side.FACE else -float(height)


def still_pairs(part: Part) -> Iterator[tuple[str, str]]:
    """Yield the panels between which nothing is ever folded."""
    moved = {key for step in part.steps for key, angle in step.angles_deg if angle}
    yield from part.rigid
    for line in part.lines:
        is_still = not line.angle_deg and line.key not in moved
        if line.kind is LineKind.PERFORATE or (line.kind is LineKind.FOLD and is_still):
            first, second = sorted(line.key.panels()) if len(line.key.panels()) == 2 else ("", "")
            yield first, second


def zone_landings(folded: FoldedPart) -> tuple[tuple[Zone, Landing], ...]:
    """Return where each zone onto a panel of the same part lands; kept with the part."""
    return kept_with(folded, "zone landings", lambda: tuple(_zone_landings(folded)))


def _zone_landings(folded: FoldedPart) -> Iterator[tuple[Zone, Landing]]:
    for zone in folded.part.zones:
        if zone.onto in folded.outlines and zone.panel in folded.outlines:
            yield zone, landing_of(zone, folded.outlines, folded.poses, folded.holes)


def part_pockets(folded: FoldedPart) -> tuple[Pocket, ...]:
    """Return the pockets of a part; kept with it."""
    return kept_with(folded, "pockets", lambda: tuple(pockets_of(folded)))


def held_zones(folded: FoldedPart) -> Iterator[Zone]:
    """Yield the zones of tape that hold two panels of the part together: those that reach their target."""
    for zone, landing in zone_landings(folded):
        if landing.is_parallel and landing.share > HELD:
            yield zone


def _held_pairs(folded: FoldedPart) -> Iterator[tuple[str, str]]:
    return ((zone.panel, zone.onto) for zone in held_zones(folded))


def tied(start: str, pairs: Iterable[tuple[str, str]]) -> frozenset[str]:
    """Return all panels that *pairs* tie to *start*, itself included."""
    ties, found = list(pairs), {start}
    while more := {n for pair in ties if found & set(pair) for n in pair} - found:
        found |= more
    return frozenset(found)


def _heights(folded: FoldedPart, pocket: Pocket) -> Iterator[tuple[str, float]]:
    """Yield the panels parallel to the front, with their heights into the pocket."""
    for name in folded.outlines:
        motion = motion_to_front(folded, pocket, name)
        if all(abs(float(slope)) <= PARALLEL for slope in motion.rotation[2][:2]):
            yield name, into(pocket, motion.translation[2])


def _is_inside(folded: FoldedPart, pocket: Pocket, name: str, height: float) -> bool:
    sign = 1 if pocket.inside is Side.FACE else -1
    return height > NEAR or (height > -NEAR and folded.side_of(pocket.front, name) == sign)
