"""A score runs beside a cut or the edge of the paper, too near to it."""

from __future__ import annotations

from collections.abc import Iterator

from ...folding.folded_book import FoldedBook
from ..finding import Amount, Finding, Severity, Spot
from ..flat_shapes import SAME, FlatShapes, as_point, shapes_of
from ..parallels import SideBySide, scores_beside_cuts
from ..words import DistinctPart, and_others, distinct_parts, panel_words, shown

UNFOLDABLE = 1.0  #: mm; what lies between score and edge cannot be taken hold of (m)
NEAREST = 3.0  #: mm; what is narrower does not stay folded, or tears along the score (m)

NAME = "score near edge"
WHY = (
    f"Between a score and an edge or a cut beside it there have to be {NEAREST:g} mm of paper, or what"
    f" is folded there does not stay folded; less than {UNFOLDABLE:g} mm cannot be folded at all."
)
WORST = Severity.ERROR
SOURCE = f"from memory: {UNFOLDABLE:g} mm to fold, {NEAREST:g} mm to stay folded"


def check(folded: FoldedBook) -> Iterator[Finding]:
    """Yield each score that is too near to a cut beside it."""
    for part in distinct_parts(folded):
        shapes = shapes_of(part.folded)
        for found in scores_beside_cuts(shapes, NEAREST):
            if found.apart < NEAREST - SAME:
                yield _finding(folded, part, shapes, found)


def _finding(
    folded: FoldedBook, part: DistinctPart, shapes: FlatShapes, found: SideBySide
) -> Finding:
    book = folded.book
    panel = shapes.panel_at(found.middle)
    cut = shapes.cuts[found.other]
    is_bad = found.apart < UNFOLDABLE
    where = f" in the {panel_words(book, part.key, panel)}" if panel else ""
    apart = f"only {shown(book, found.apart)} from" if found.apart > SAME else "on"
    return Finding(
        Severity.ERROR if is_bad else Severity.WARNING,
        Spot(part.key, panel, as_point(found.middle)),
        f"a score{where} is {apart} {cut.words} beside it{and_others(part.number)}",
        f"move it {shown(book, NEAREST - found.apart)} away, or leave out one of the two",
        Amount((UNFOLDABLE if is_bad else NEAREST) - found.apart),
    )
