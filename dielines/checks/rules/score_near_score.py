"""Two scores run side by side, too near to each other."""

from __future__ import annotations

from collections.abc import Iterator

from ...folding.folded_book import FoldedBook
from ...workshop.stock import StockKind
from ..finding import Amount, Finding, Severity, Spot
from ..flat_shapes import SAME, FlatShapes, as_point, shapes_of
from ..parallels import SideBySide, scores_beside_scores
from ..settings_that_mend import wider_channel
from ..words import DistinctPart, and_others, distinct_parts, panel_words, shown

NEAREST = 1.5  #: mm; two scores nearer than that open into one wide one (m)
CREASE = 1.5  #: calipers; the width of a crease is this, and the tool's (1.5 c + d)

NAME = "score near score"
WHY = (
    f"Two scores of paper need {NEAREST:g} mm between them, or they open into one; nearer than"
    f" {CREASE:g} times the thickness of the stock they are one. Book cloth is not creased but bent:"
    " only the latter holds for it."
)
WORST = Severity.ERROR
SOURCE = (
    f"{NEAREST:g} mm from memory; the width of a crease, {CREASE:g} c + d, from a supplier of creasing"
    " matrices"
)


def check(folded: FoldedBook) -> Iterator[Finding]:
    """Yield each two scores that are too near to each other."""
    for part in distinct_parts(folded):
        shapes, least = shapes_of(part.folded), _least(part)
        for found in scores_beside_scores(shapes, least):
            if SAME < found.apart < least - SAME:
                yield _finding(folded, part, shapes, found)


def _crease(part: DistinctPart) -> float:
    return CREASE * float(part.entry.stock.caliper.mm)


def _least(part: DistinctPart) -> float:
    """Return how far apart scores of this stock have to be."""
    is_cloth = part.entry.stock.kind is StockKind.COVERING
    return _crease(part) if is_cloth else max(NEAREST, _crease(part))


def _finding(
    folded: FoldedBook, part: DistinctPart, shapes: FlatShapes, found: SideBySide
) -> Finding:
    book, least = folded.book, _least(part)
    panel = shapes.panel_at(found.middle)
    is_one = found.apart < _crease(part)
    between = f" in the {panel_words(book, part.key, panel)}" if panel else ""
    return Finding(
        Severity.ERROR if is_one else Severity.WARNING,
        Spot(part.key, panel, as_point(found.middle)),
        f"two scores{between} are only {shown(book, found.apart)} apart{and_others(part.number)}",
        f"set them {shown(book, least - found.apart)} farther apart, or more",
        Amount((_crease(part) if is_one else least) - found.apart),
        wider_channel(part.entry, panel, least),
    )
