"""A corner of the paper is so sharp that it is a sliver."""

from __future__ import annotations

from collections.abc import Iterator

from ...folding.folded_book import FoldedBook
from ..corners import Corner, sharp_corners
from ..finding import Amount, Finding, Severity, Spot
from ..flat_shapes import FlatShapes, as_point, shapes_of
from ..words import DistinctPart, and_others, and_places, distinct_parts, panel_words

SHARPEST = 20.0  #: degrees; a sharper corner curls, and tears off at a touch (m)

NAME = "sliver too sharp"
WHY = f"A corner of paper of less than {SHARPEST:g} degrees curls, and its tip tears off."
WORST = Severity.WARNING
SOURCE = f"from memory: {SHARPEST:g} degrees"


def check(folded: FoldedBook) -> Iterator[Finding]:
    """Yield the sharpest corner of each part that has one too sharp."""
    for part in distinct_parts(folded):
        shapes = shapes_of(part.folded)
        corners = sharp_corners(shapes, SHARPEST - 1e-6)
        if corners:
            yield _finding(folded, part, shapes, corners)


def _finding(
    folded: FoldedBook, part: DistinctPart, shapes: FlatShapes, corners: list[Corner]
) -> Finding:
    sharpest = corners[0]
    panel = shapes.panel_at(sharpest.inside)
    return Finding(
        Severity.WARNING,
        Spot(part.key, panel, as_point(sharpest.tip)),
        f"a corner of the {panel_words(folded.book, part.key, panel)} has"
        f" {sharpest.angle_deg:.0f} degrees{and_places(len(corners))}{and_others(part.number)}",
        f"make it {SHARPEST:g} degrees or more, cut its tip off or round it",
        Amount(SHARPEST - sharpest.angle_deg, "degrees"),
    )
