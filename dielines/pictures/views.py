"""From where a folded part shows most: the side to which its panels go, and into its mouth."""

from __future__ import annotations

from collections.abc import Iterator

from ..folding.folded_part import FoldedPart
from ..part import Edge
from ..paths import bounds_of
from .camera import Viewpoint

TURN, RISE = 26.0, 46.0  #: degrees
FROM_ABOVE = Viewpoint(0, 90)
_SIDES = {"right": (1, 0), "left": (-1, 0), "top": (0, 1), "bottom": (0, -1)}


def view_of(folded: FoldedPart) -> Viewpoint:
    """Return the view of a part for all its stages, so that they can be laid side by side."""
    if not folded.part.folds:
        return FROM_ABOVE
    is_from_below = sum(_lifts(folded)) < 0
    across, up = (sum(parts) for parts in zip((0.0, 0.0), *_openings(folded), strict=True))
    if is_from_below:
        across = -across
    turn = -TURN if across < -1e-6 else TURN
    if up > 1e-6 and abs(across) < up:
        turn = 180 - turn
    return Viewpoint(turn, RISE, is_from_below)


def _lifts(folded: FoldedPart) -> Iterator[float]:
    """Yield for each panel its area, below 0 where it lies on the reverse side of the root."""
    root = folded.poses[folded.root].inverse()
    for panel in folded.part.panels:
        box = bounds_of([panel.outline])
        middle = ((box.left + box.right) / 2, (box.bottom + box.top) / 2)
        height = float(root.compose(folded.poses[panel.name]).at(middle)[2])
        if abs(height) < 1e-3:
            height = folded.side_of(folded.root, panel.name)
        if abs(height) >= 1e-3:
            yield float(box.width * box.height) * (1 if height > 0 else -1)


def _openings(folded: FoldedPart) -> Iterator[tuple[float, float]]:
    """Yield where each mouth opens to, across and up, once the part is folded."""
    for mouth in folded.part.mouths:
        yield _direction(folded, mouth)


def _direction(folded: FoldedPart, mouth: Edge) -> tuple[float, float]:
    x, y = _SIDES.get(mouth.side, (0, 0))
    rotation = folded.poses[mouth.panel].rotation
    across, up = (float(row[0] * x + row[1] * y) for row in rotation[:2])
    return across, up
