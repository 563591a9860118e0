"""A cut or a score lies on another of the same part, wholly or for some way."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from ...folding.folded_book import FoldedBook
from ..doubling import Doubled, doubled
from ..finding import Amount, Finding, Severity, Spot
from ..flat_shapes import as_point, shapes_of
from ..words import DistinctPart, and_others, and_places, distinct_parts, shown

NAME = "cuts doubled"
WHY = (
    "Where a line is cut or scored twice the blade tears the paper, and the machine works longer than"
    " it has to."
)
WORST = Severity.WARNING
SOURCE = "geometry, common practice"


def check(folded: FoldedBook) -> Iterator[Finding]:
    """Yield for each part how much of its cuts, and of its scores, is there twice."""
    for part in distinct_parts(folded):
        shapes = shapes_of(part.folded)
        cuts = [cut.path for cut in shapes.cuts]
        scores = [path for _, path in shapes.scores]
        for word, paths in (("cut", cuts), ("scored", scores)):
            found = doubled(paths)
            if found:
                yield _finding(folded, part, word, found)


def _finding(
    folded: FoldedBook, part: DistinctPart, word: str, found: Sequence[Doubled]
) -> Finding:
    shapes, total = shapes_of(part.folded), sum(one.run for one in found)
    place = found[0].middle
    return Finding(
        Severity.WARNING,
        Spot(part.key, shapes.panel_at(place), as_point(place)),
        f"{shown(folded.book, total)} are {word} twice{and_places(len(found))}"
        f"{and_others(part.number)}",
        "leave one of the two lines out",
        Amount(total),
    )
