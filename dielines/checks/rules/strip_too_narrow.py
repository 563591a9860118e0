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
    f"Between two cuts, or a cut and the edge, a strip of paper needs {SAFE:g} mm, one of board as much"
    f" as the board is thick; under {TORN:g} mm it tears while it is cut, or comes off with the blade."
)
WORST = Severity.ERROR
SOURCE = f"widths from memory: {TORN:g} mm to cut, {SAFE:g} mm to last"


def check(folded: FoldedBook) -> Iterator[Finding]:
    """Yield the narrowest strip of each part that has one too narrow."""
    for part in distinct_parts(folded):
        shapes = shapes_of(part.folded)
        least = safe(part)
        strips = [n for n in narrower(part.folded, least) if held_by(shapes, n) is None]
        if strips:
            yield _finding(folded, part, shapes, strips)


def safe(part: DistinctPart) -> float:
    """Return how wide a strip of the stock of a part has to be, mm: of board, as wide as thick."""
    return max(SAFE, float(part.entry.stock.caliper.mm))


def _finding(
    folded: FoldedBook, part: DistinctPart, shapes: FlatShapes, strips: list[Narrow]
) -> Finding:
    book, narrowest = folded.book, strips[0]
    panel = shapes.panel_at(narrowest.middle)
    torn = narrowest.width < TORN
    lacking: Number = (TORN if torn else safe(part)) - narrowest.width
    return Finding(
        Severity.ERROR if torn else Severity.WARNING,
        Spot(part.key, panel, as_point(narrowest.middle)),
        f"the strip between {_cuts(narrowest)} in the {panel_words(book, part.key, panel)} is only"
        f" {shown(book, narrowest.width)} wide{and_places(len(strips))}{and_others(part.number)}",
        f"move the cuts apart by {shown(book, safe(part) - narrowest.width)} or more",
        Amount(lacking),
    )


def _cuts(narrow: Narrow) -> str:
    """Return between which cuts a strip lies."""
    first, second = narrow.first, narrow.second
    if first is second:
        return f"two edges of {first.words}"
    if first.words == second.words:
        return f"two {second.words.removeprefix('an ').removeprefix('a ')}s"
    return f"{first.words} and {second.words}"
