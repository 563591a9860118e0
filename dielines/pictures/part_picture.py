"""Pictures of one part: at one stage of folding, or all its steps on one page."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any

from ..folding.folded_part import FoldedPart
from ..paths import Number
from ..poses import FINISHED
from .camera import Camera, Viewpoint
from .painting import Fill
from .part_stage import StageDrawing, stage_drawing, stages_of
from .svg_page import SMALL, TEXT, Page, Placement, arrow, name_panels, paint, text_width
from .tints import shaded, tint_of_stock
from .views import view_of
from .words import panel_name

ROOM = 150.0  #: mm on the page for the diagonal of the flat part, so that all stages are as large
ROOM_EACH = 96.0  #: the same where there are several on one page
GREATEST_SCALE = 3.0
MARGIN, GUTTER = 6.0, 8.0  #: mm
ABREAST = 3  #: stages in a row
LEAST_WIDTH = 44.0  #: mm for a stage, for the words above it


def part_picture(
    folded: FoldedPart, stage: Number = FINISHED, title: str = "", view: Viewpoint | None = None
) -> str:
    """Return the SVG of a part at *stage*, 0 flat to 1 finished, with an arrow for what comes next.

    *view* is one that shows where the part opens unless given. Raises ValueError
    for a stage outside 0 to 1.
    """
    camera = Camera(view or view_of(folded))
    return _page(folded, [stage_drawing(folded, stage, camera)], title, ROOM)


def folding_picture(folded: FoldedPart, title: str = "", view: Viewpoint | None = None) -> str:
    """Return the SVG of a part flat and after each of its steps, all on one page."""
    camera = Camera(view or view_of(folded))
    drawings = [stage_drawing(folded, stage, camera) for stage in stages_of(folded)]
    return _page(folded, drawings, title, ROOM_EACH if len(drawings) > 1 else ROOM)


def _page(folded: FoldedPart, drawings: Sequence[StageDrawing], title: str, room: float) -> str:
    part = folded.part
    scale = min(room / math.hypot(part.width, part.height), GREATEST_SCALE)
    rows = [drawings[i : i + ABREAST] for i in range(0, len(drawings), ABREAST)]
    cell = max(LEAST_WIDTH, *(_size(drawing, scale)[0] for drawing in drawings)) + GUTTER
    heights = [max(_size(drawing, scale)[1] for drawing in row) + 2.4 * TEXT for row in rows]
    title = title or part.name.replace("_", " ")
    width = max(cell * len(rows[0]) - GUTTER, text_width(title, TEXT)) + 2 * MARGIN
    height = sum(heights) + GUTTER * len(rows) + 2 * MARGIN + TEXT * 1.6
    page = Page(width, height, _title(title, drawings), _description(folded, drawings))
    top = height - MARGIN - TEXT * 1.6
    for row, row_height in zip(rows, heights, strict=True):
        for place, drawing in enumerate(row):
            _draw(page, folded, drawing, (MARGIN + place * cell, top, scale))
        top -= row_height + GUTTER
    texts = page.group("words")
    page.words(texts, title, MARGIN, height - MARGIN - TEXT * 0.7)
    _legend(page, texts, folded)
    return page.text()


def _size(drawing: StageDrawing, scale: float) -> tuple[float, float]:
    left, bottom, right, top = drawing.painted.bounds
    return (right - left) * scale, (top - bottom) * scale


def _draw(
    page: Page, folded: FoldedPart, drawing: StageDrawing, corner: tuple[float, float, float]
) -> None:
    """Draw one stage below and to the right of a corner (x, y, scale), its words on top."""
    x, top, scale = corner
    painted = drawing.painted
    base = top - 1.9 * TEXT - _size(drawing, scale)[1]
    placement = Placement(painted, scale, x, base)
    paint(page, painted, placement)
    way = placement.line(drawing.way)
    names = {panel.name: panel_name(folded.part, panel.name) for panel in folded.part.panels}
    dashes = list(map(placement.line, painted.hidden))
    name_panels(page, painted.fills, placement, names, [way], dashes)
    arrow(page, way)
    page.words(page.group("stage"), drawing.words, x, top - SMALL, SMALL)


def _title(title: str, drawings: Sequence[StageDrawing]) -> str:
    if len(drawings) == 1:
        return f"{title}, {drawings[0].words}"
    return f"{title}, how it is folded"


def _description(folded: FoldedPart, drawings: Sequence[StageDrawing]) -> str:
    """Return in words what can be seen, for those who cannot."""
    return " ".join(
        f"{drawing.words[0].upper()}{drawing.words[1:]}: {_seen(folded, drawing.painted.fills)}."
        for drawing in drawings
    )


def _seen(folded: FoldedPart, fills: Sequence[Fill]) -> str:
    sides = ((True, "face of"), (False, "reverse of"))
    told = [f"{words} {names}" for side, words in sides if (names := _names(folded, fills, side))]
    return "; ".join(told)


def _names(folded: FoldedPart, fills: Sequence[Fill], shows_face: bool) -> str:
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
