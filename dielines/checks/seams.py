"""The tape that holds a part together: where each zone, and the panel that carries it, lands."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from ..folding.folded_part import FoldedPart
from ..folding.keeping import kept_with
from ..folding.lids import zone_landings
from ..landing import Landed, Landing, land
from ..part import LineKind, Part, Side, Zone
from ..paths import Bounds, Number, Path, magnitude

CONTACT = 0.5  #: mm; a seam so far from its target is pressed onto it (a paper and its tape)
NEAR = 0.001  #: mm; what sticks out by less does not


class Seam(NamedTuple):
    """A zone of tape onto a panel of the same part.

    *landing* is that of the tape, *landed* that of the whole panel that carries it,
    on the target.
    """

    zone: Zone
    landing: Landing
    landed: Landed

    @property
    def gap(self) -> Number:
        """How far the panel lies from its target's plane, mm."""
        return magnitude(self.landed.distance)


def seams_of(folded: FoldedPart) -> tuple[Seam, ...]:
    """Return the seams of a part; they stay with it, as all else that is found out about it."""
    return kept_with(folded, "seams", lambda: tuple(_seams(folded)))


def _seams(folded: FoldedPart) -> Iterator[Seam]:
    for zone, landing in zone_landings(folded):
        own, onto = folded.poses[zone.panel], folded.poses[zone.onto]
        yield Seam(zone, landing, land(own, onto, folded.outlines[zone.panel]))


def side_sign(side: Side) -> int:
    """Return +1 for the face, -1 for the reverse, as `FoldedPart.side_of` counts."""
    return 1 if side is Side.FACE else -1


def curved_pairs(part: Part) -> Iterator[tuple[str, str]]:
    """Yield the panels on both sides of each curved score: drawn in one plane, not folded."""
    for line in part.lines:
        if line.kind is LineKind.FOLD and not line.is_straight:
            first, *others = sorted(line.key.panels())
            yield from ((first, other) for other in others)


def curved_beside(part: Part, panel: str) -> Sequence[Path]:
    """Return the outlines beyond the curved scores of a panel."""
    names = {name for pair in curved_pairs(part) if panel in pair for name in pair} - {panel}
    return [part.panel(name).outline for name in sorted(names)]


def shared_area(a: Bounds, b: Bounds) -> float:
    """Return how much two rectangles have in common, mm2; 0 where they only touch."""
    across = min(a.right, b.right) - max(a.left, b.left)
    up = min(a.top, b.top) - max(a.bottom, b.bottom)
    return float(across * up) if across > 0 and up > 0 else 0.0
