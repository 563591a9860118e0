"""The neck of paper that holds a panel, a flap or a tab is too narrow."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from ...book.join_words import listed
from ...folding.folded_book import FoldedBook
from ..finding import Amount, Finding, Severity, Spot
from ..flat_shapes import FlatShapes, as_point, shapes_of
from ..narrow_paper import Narrow, held_by, narrower, panels_held
from ..words import DistinctPart, and_others, distinct_parts, panel_words, shown

if TYPE_CHECKING:
    from shapely import Polygon

TORN = 2.0  #: mm; what hangs on less comes off when it is folded (m)
SAFE = 5.0  #: mm; what hangs on less comes off in use (m)

NAME = "neck too narrow"
WHY = (
    f"What holds a panel or a tab to the rest needs {SAFE:g} mm of paper; on less than {TORN:g} mm"
    " it comes off when it is folded."
)
WORST = Severity.ERROR
SOURCE = f"widths from memory: {TORN:g} mm to fold, {SAFE:g} mm to last"


def check(folded: FoldedBook) -> Iterator[Finding]:
    """Yield every neck that is too narrow."""
    for part in distinct_parts(folded):
        shapes = shapes_of(part.folded)
        for neck in narrower(part.folded, SAFE):
            held = held_by(shapes, neck)
            if held is not None:
                yield _finding(folded, part, shapes, neck, held)


def _finding(
    folded: FoldedBook, part: DistinctPart, shapes: FlatShapes, neck: Narrow, held: Polygon
) -> Finding:
    book = folded.book
    panel = shapes.panel_at(neck.middle)
    names = [panel_words(book, part.key, name) for name in panels_held(shapes, held)]
    what = (
        f"the {listed(names)}" if names else f"a piece of the {panel_words(book, part.key, panel)}"
    )
    torn = neck.width < TORN
    return Finding(
        Severity.ERROR if torn else Severity.WARNING,
        Spot(part.key, panel, as_point(neck.middle)),
        f"only {shown(book, neck.width)} of paper holds {what}{and_others(part.number)}",
        f"make the neck wider by {shown(book, SAFE - neck.width)} or more",
        Amount((TORN if torn else SAFE) - neck.width),
    )
