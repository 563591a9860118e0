"""What stands between front and back of a pocket: walls, folds and tape."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from enum import Enum
from itertools import pairwise
from typing import Any

from ..landing import PARALLEL
from ..part import Part
from ..paths import flattened
from .folded_part import FoldedPart
from .lids import SAGITTA, Flat, Lids, held_zones, into, motion_to_front, on_front
from .pockets import GRAFTED

Ring = tuple[tuple[float, float, float], ...]
"""The corners of a standing panel in the flat coordinates of a front, z above its face."""

#: Where a pocket is cut, as shares of its depth. None of them meets the crease of a pleat
#: that lies a half, a third or a quarter of the depth up: there no wall would be found.
DEPTHS = (0.23, 0.41, 0.71)


class Closing(Enum):
    """What keeps things in a pocket at one of its sides; the first is the strongest."""

    SECURED = "secured"  #: a fold, tape, or a wall that is fastened at front and back
    STANDING = "standing"  #: a wall that what binds the page holds there, fastened at one of them
    LOOSE = "loose"  #: a wall that should be fastened at both, and is at one
    OPEN = "open"


@dataclass(frozen=True, slots=True)
class Wall:
    """A line or, of tape, an area on the front that nothing passes."""

    points: tuple[Flat, ...]
    closing: Closing
    panel: str  #: the panel that stands there, or carries the tape; empty for one of another part
    is_tape: bool = False

    def shape(self) -> Any:
        """Return it as a shape."""
        from shapely import LineString, Polygon

        return Polygon(self.points) if self.is_tape else LineString(self.points)


Walls = tuple[Wall, ...]


def walls_of(folded: FoldedPart, lids: Lids, around: Iterable[Ring] = ()) -> list[Walls]:
    """Return what stands in a pocket at each of `DEPTHS`; *around* are panels of other parts.

    A pocket without depth has one such set: the folds and the tape that close it.
    """
    taped = _taped(folded, lids)
    if lids.is_flat:
        return [(*_folds(folded, lids), *taped)]
    panels = [*_own(folded, lids), *((ring, Closing.STANDING, "") for ring in around)]
    return [(*_standing(lids, panels, lids.depth * share), *taped) for share in DEPTHS]


def _own(folded: FoldedPart, lids: Lids) -> Iterator[tuple[Ring, Closing, str]]:
    """Yield the panels of the part that are not parallel to the front, where they are over it."""
    for name, closing in _closings(folded, lids).items():
        motion = motion_to_front(folded, lids.pocket, name)
        if any(abs(float(slope)) > PARALLEL for slope in motion.rotation[2][:2]):
            corners = (motion.at(point) for point in flattened(folded.outlines[name], SAGITTA))
            yield tuple((float(x), float(y), float(z)) for x, y, z in corners), closing, name


def _standing(
    lids: Lids, panels: Iterable[tuple[Ring, Closing, str]], height: float
) -> Iterator[Wall]:
    for ring, closing, name in panels:
        for line in _cut(lids, ring, height):
            yield Wall(line, closing, name)


def _cut(lids: Lids, ring: Ring, height: float) -> Iterator[tuple[Flat, Flat]]:
    """Yield where a plane at *height* into the pocket cuts a panel."""
    crossings: list[Flat] = []
    raised = [(x, y, into(lids.pocket, z) - height) for x, y, z in ring]
    for (x0, y0, z0), (x1, y1, z1) in pairwise([*raised, raised[0]]):
        if (z0 > 0) != (z1 > 0):
            share = z0 / (z0 - z1)
            place = (x0 + (x1 - x0) * share, y0 + (y1 - y0) * share)
            crossings.append((round(place[0], 6), round(place[1], 6)))
    crossings.sort()
    yield from zip(crossings[::2], crossings[1::2], strict=False)


def _folds(folded: FoldedPart, lids: Lids) -> Iterator[Wall]:
    """Yield the folds that go from front to back at once, of a pocket without depth."""
    for line in folded.part.folds:
        ends = line.key.panels()
        if line.angle_deg and ends & lids.fronts and ends & lids.backs:
            name = min(ends & lids.fronts)
            for piece in line.pieces:
                points = tuple(on_front(folded, lids.pocket, name, piece))
                yield Wall(points, Closing.SECURED, name)


def _taped(folded: FoldedPart, lids: Lids) -> list[Wall]:
    """Return the tape that holds front and back together."""
    return [
        Wall(
            tuple(on_front(folded, lids.pocket, zone.panel, zone.path)),
            Closing.SECURED,
            zone.panel,
            is_tape=True,
        )
        for zone in held_zones(folded)
        if {zone.panel, zone.onto} & lids.fronts and {zone.panel, zone.onto} & lids.backs
    ]


# ------------------------------------------------------------------ how walls are fastened


def _closings(folded: FoldedPart, lids: Lids) -> dict[str, Closing]:
    """Return of each panel outside the lids how the wall that it belongs to is fastened."""
    part, lying = folded.part, lids.fronts | lids.backs
    ties = [*_ties(folded)]
    left = [name for name in folded.outlines if name not in lying]
    found: dict[str, Closing] = {}
    while left:
        wall = {left[0]}
        while more := {n for tie in ties if tie & wall for n in tie} - wall - lying:
            wall |= more
        fastened = {n for tie in ties if tie & wall for n in tie}
        closing = _closing(part, wall, bool(fastened & lids.fronts), bool(fastened & lids.backs))
        found |= dict.fromkeys(wall, closing)
        left = [name for name in left if name not in wall]
    return found


def _ties(folded: FoldedPart) -> Iterator[frozenset[str]]:
    """Yield the pairs of panels that a line that holds, or tape, ties together."""
    for line in folded.part.folds:
        yield line.key.panels()
    for pair in folded.part.rigid:
        yield frozenset(pair)
    for zone in held_zones(folded):
        yield frozenset((zone.panel, zone.onto))


def _closing(part: Part, wall: set[str], at_front: bool, at_back: bool) -> Closing:
    if at_front and at_back:
        return Closing.SECURED
    own = {panel.name for panel in part.panels}
    goes_on = any(zone.panel in wall and zone.onto not in own for zone in part.zones)
    is_binding = goes_on or any(name.startswith(GRAFTED) for name in wall)
    return Closing.STANDING if is_binding else Closing.LOOSE
