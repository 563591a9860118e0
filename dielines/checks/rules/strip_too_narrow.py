"""A strip of paper between two cuts, or between a cut and the outline, is too narrow."""

from __future__ import annotations

from collections.abc import Iterator

from ...folding.folded_book import FoldedBook
from ...paths import Number
from ..finding import Amount, Finding, Severity, Spot
from ..flat_shapes import FlatShapes, as_point, shapes_of
from ..narrow_paper import Narrow, held_by, narrower
from ..words import DistinctPart, and_others, and_places, distinct_parts, panel_words, shown

TORN = 0.5  #: mm; a narrower strip tears while it is cut (m)
SAFE = 2.0  #: mm; a narrower strip tears in use (m)

NAME = "strip too narrow"
WHY = (
    f"Between two cuts, or a cut and the edge, a strip of paper needs {SAFE:g} mm; under {TORN:g} mm"
    " it tears while it is cut, or comes off with the blade."
)
WORST = Severity.ERROR
SOURCE = f"widths from memory: {TORN:g} mm to cut, {SAFE:g} mm to last"


def check(folded: FoldedBook) -> Iterator[Finding]:
    """Yield the narrowest strip of each part that has one too narrow."""
    for part in distinct_parts(folded):
        shapes = shapes_of(part.folded)
        strips = [n for n in narrower(part.folded, SAFE) if held_by(shapes, n) is None]
        if strips:
            yield _finding(folded, part, shapes, strips)


def _finding(
    folded: FoldedBook, part: DistinctPart, shapes: FlatShapes, strips: list[Narrow]
) -> Finding:
    book, narrowest = folded.book, strips[0]
    panel = shapes.panel_at(narrowest.middle)
    torn = narrowest.width < TORN
    lacking: Number = (TORN if torn else SAFE) - narrowest.width
    cuts = f"{narrowest.first.words} and {narrowest.second.words}"
    if narrowest.first == narrowest.second:
        cuts = f"two edges of {narrowest.first.words}"
    return Finding(
        Severity.ERROR if torn else Severity.WARNING,
        Spot(part.key, panel, as_point(narrowest.middle)),
        f"the strip between {cuts} in the {panel_words(book, part.key, panel)} is only"
        f" {shown(book, narrowest.width)} wide{and_places(len(strips))}{and_others(part.number)}",
        f"move the cuts apart by {shown(book, SAFE - narrowest.width)} or more",
        Amount(lacking),
    )
