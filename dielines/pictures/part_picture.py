"""Pictures of one part, folded as far as one likes."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from ..folding.folded_part import FoldedPart
from ..models.facets import facets_of, placed
from ..models.patches import patches_of
from ..part import Panel
from ..paths import Number
from ..poses import FINISHED, angles_after
from .camera import Camera, Viewpoint
from .layers import placed_at
from .painting import Dashes, Fill, Painting, painting
from .svg_page import SMALL, TEXT, Page, Placement, arrow, name_panels, paint, text_width
from .tints import shaded, tint_of_stock
from .views import view_of
from .words import panel_name

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Array = NDArray[Any]

ROOM = 150.0  #: mm on the page for the diagonal of the flat part, so that all stages are as large
GREATEST_SCALE = 3.0
MARGIN = 6.0
GAP_SHARE = 0.011  #: gap between layers as a share of the part's diagonal
SAMPLES = 14  #: places along the way of an arrow


def part_picture(
    folded: FoldedPart, stage: Number = FINISHED, title: str = "", view: Viewpoint | None = None
) -> str:
    """Return the SVG of a part at *stage*, 0 flat to 1 finished, with an arrow for what comes next.

    *view* is one that shows where the part opens unless given. Raises ValueError
    for a stage outside 0 to 1.
    """
    camera = Camera(view or view_of(folded))
    patches = patches_of(folded.part)
    facets = facets_of("", patches, placed_at(folded, stage, gap_of(folded)))
    tint = tint_of_stock(folded.part.stock)
    is_finished = stage == 1
    painted = painting(
        facets,
        camera,
        lambda _: tint,
        _over(folded, stage),
        Dashes.OUTLINES if is_finished else Dashes.NONE,
    )
    words = title or folded.part.name.replace("_", " ")
    return _page(folded, stage, painted, words, _way(folded, stage, camera)).text()


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
    count = len(angles_after(folded.part.lines, folded.part.steps)) - 1
    if not folded.part.folds:
        return "nothing to fold"
    if stage == 0:
        return f"flat, before step 1 of {count}" if count > 1 else "flat, before folding"
    if stage == 1:
        return "folded"
    done = int(stage * count)
    if stage * count == done:
        return f"after step {done} of {count}"
    return f"in step {done + 1} of {count}" if count > 1 else "partly folded"


def _page(
    folded: FoldedPart, stage: Number, painted: Painting, title: str, way: Array | None
) -> Page:
    painted = painted if way is None else painted.around(way.tolist())
    left, bottom, right, top = painted.bounds
    across, up = max(right - left, 1e-3), max(top - bottom, 1e-3)
    part = folded.part
    scale = min(ROOM / math.hypot(part.width, part.height), GREATEST_SCALE)
    head = 2 * TEXT + 5
    width = max(across * scale, 60) + 2 * MARGIN
    height = up * scale + 2 * MARGIN + head + 6
    words = step_words(folded, stage)
    page = Page(width, height, f"{title}, {words}", _description(folded, painted))
    placement = Placement(painted, scale, (width - across * scale) / 2, MARGIN + 6)
    paint(page, painted, placement)
    arrow_line = placement.line(map(tuple, way.tolist())) if way is not None else ()
    names = {panel.name: panel_name(folded.part, panel.name) for panel in part.panels}
    name_panels(
        page, painted.fills, placement, names, [arrow_line, *map(placement.line, painted.hidden)]
    )
    arrow(page, arrow_line)
    texts = page.group("words")
    page.words(texts, title, MARGIN, height - MARGIN - TEXT * 0.7, TEXT)
    page.words(texts, words, MARGIN, height - MARGIN - TEXT * 2.1, SMALL)
    _legend(page, texts, folded)
    return page


def _description(folded: FoldedPart, painted: Painting) -> str:
    """Return in words what can be seen, for those who cannot."""
    faces = _listed(folded, painted.fills, True)
    reverses = _listed(folded, painted.fills, False)
    words = [f"Face up: {faces}." if faces else "", f"Reverse up: {reverses}." if reverses else ""]
    return " ".join(filter(None, words))


def _listed(folded: FoldedPart, fills: Sequence[Fill], shows_face: bool) -> str:
    seen = {f.facet.panel: None for f in fills if f.shows_face is shows_face and f.facet.panel}
    return ", ".join(panel_name(folded.part, name) for name in seen)


def _legend(page: Page, group: Any, folded: FoldedPart) -> None:
    """Tell which tint is the face and which the reverse, below the picture."""
    tint = tint_of_stock(folded.part.stock)
    x = MARGIN
    for words, colour in (("face", tint.face), ("reverse", tint.reverse)):
        page.swatch(group, x, MARGIN - 2, shaded(colour, 1.0))
        page.words(group, words, x + 5, MARGIN - 1.6, SMALL)
        x += 8 + text_width(words, SMALL)


def _way(folded: FoldedPart, stage: Number, camera: Camera) -> Array | None:
    """Return the way (n x 2) of the middle of the panel that moves farthest in what comes next."""
    import numpy as np

    if stage == 1 or not folded.part.folds:
        return None
    count = len(angles_after(folded.part.lines, folded.part.steps)) - 1
    end = (int(stage * count) + 1) / count
    stages = [float(stage) + (end - float(stage)) * i / SAMPLES for i in range(SAMPLES + 1)]
    poses = [folded.at(at) for at in stages]
    ways = {
        panel.name: np.array([placed(pose[panel.name]).at([_middle(panel)])[0] for pose in poses])
        for panel in folded.part.panels
    }
    farthest = max(ways.values(), key=_length)
    return camera.seen(farthest)[:, :2] if _length(farthest) > 1 else None


def _length(way: Array) -> float:
    import numpy as np

    return round(float(np.linalg.norm(np.diff(way, axis=0), axis=1).sum()), 6)


def _middle(panel: Panel) -> tuple[float, float]:
    box = panel.bounds()
    return float(box.left + box.right) / 2, float(box.bottom + box.top) / 2
