"""One part at one stage of folding, painted, with the way of what moves next."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING, Any

from ..folding.folded_part import FoldedPart
from ..models.facets import facets_of, placed
from ..models.patches import patches_of
from ..part import Panel
from ..paths import Number
from ..poses import angles_after
from .camera import Camera
from .layers import placed_at
from .painting import Line, Painting, painting
from .tints import tint_of_stock

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Array = NDArray[Any]

GAP_SHARE = 0.011  #: gap between layers as a share of the part's diagonal
INSET = 2.5  #: gaps from the border of what covers, within which nothing under it is drawn
FEW = 12  #: panels, up to which dashes help more than they confuse
SAMPLES = 14  #: places along the way of an arrow
LEAST_WAY = 1.0  #: mm; what moves less needs no arrow


@dataclass(frozen=True)
class StageDrawing:
    """A part as it is seen at a stage; *way* is that of the arrow, empty where nothing follows."""

    painted: Painting  #: its bounds hold the arrow as well
    way: Line
    words: str  #: how far folding has come


def stage_drawing(folded: FoldedPart, stage: Number, camera: Camera) -> StageDrawing:
    """Return what is drawn of a part at *stage*, 0 flat to 1 finished."""
    tint = tint_of_stock(folded.part.stock)
    painted = painting(
        facets_of("", patches_of(folded.part), placed_at(folded, stage, gap_of(folded))),
        camera,
        lambda _: tint,
        _over(folded, stage),
        INSET * gap_of(folded) if stage == 1 and len(folded.part.panels) <= FEW else None,
    )
    way = _way(folded, stage, camera)
    return StageDrawing(painted.around(way) if way else painted, way, step_words(folded, stage))


def steps_of(folded: FoldedPart) -> int:
    """Return in how many steps the part is folded, 0 where it has no folds."""
    part = folded.part
    return len(angles_after(part.lines, part.steps)) - 1 if part.folds else 0


def stages_of(folded: FoldedPart) -> Sequence[Fraction]:
    """Return the stages that show how it is folded: flat, after each step; of one step its middle."""
    count = steps_of(folded)
    if count < 2:
        return [Fraction(k, 2) for k in range(3)] if count else [Fraction(0)]
    return [Fraction(k, count) for k in range(count + 1)]


def gap_of(folded: FoldedPart) -> float:
    """Return how far layers are drawn apart, mm."""
    part = folded.part
    return GAP_SHARE * math.hypot(part.width, part.height)


def _over(folded: FoldedPart, stage: Number) -> frozenset[tuple[str, str]]:
    """Return the pairs in one plane whose order only the layers tell (flaps tucked round)."""
    if not folded.layering.circles or stage != 1:
        return frozenset()
    return frozenset((b, a) for (a, b), side in folded.layering.sides.items() if side > 0)


def step_words(folded: FoldedPart, stage: Number) -> str:
    """Return how far folding has come: "step 1 of 2, half done"."""
    count = steps_of(folded)
    if not count:
        return "nothing to fold"
    if stage == 0:
        return f"flat, before step 1 of {count}" if count > 1 else "flat, before folding"
    if stage == 1:
        return "folded"
    done = int(stage * count)
    if stage * count == done:
        return f"after step {done} of {count}"
    return f"in step {done + 1} of {count}" if count > 1 else "partly folded"


def _way(folded: FoldedPart, stage: Number, camera: Camera) -> Line:
    """Return the way of the middle of the panel that moves farthest in what comes next."""
    import numpy as np

    count = steps_of(folded)
    if stage == 1 or not count:
        return ()
    end = (int(stage * count) + 1) / count
    stages = [float(stage) + (end - float(stage)) * i / SAMPLES for i in range(SAMPLES + 1)]
    poses = [folded.at(at) for at in stages]
    ways = {
        panel.name: np.array([placed(pose[panel.name]).at([_middle(panel)])[0] for pose in poses])
        for panel in folded.part.panels
    }
    farthest = max(ways.values(), key=_length)
    seen = camera.seen(farthest)[:, :2].tolist()
    return tuple((x, y) for x, y in seen) if _length(farthest) > LEAST_WAY else ()


def _length(way: Array) -> float:
    import numpy as np

    return round(float(np.linalg.norm(np.diff(way, axis=0), axis=1).sum()), 6)


def _middle(panel: Panel) -> tuple[float, float]:
    box = panel.bounds()
    return float(box.left + box.right) / 2, float(box.bottom + box.top) / 2
