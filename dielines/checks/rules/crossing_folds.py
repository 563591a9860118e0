"""Folds cross inside the paper although neither is made through the layers of the other."""

from __future__ import annotations

from collections.abc import Iterator

from ...book.join_words import listed
from ...folding.crossings import Crossing, crossings
from ...folding.folded_book import FoldedBook
from ..finding import Amount, Finding, Severity, Spot
from ..words import and_others, distinct_parts, panel_words

NAME = "crossing folds"
WHY = (
    "Four cells around a point cannot all be folded against each other, unless one fold is made"
    " first and the other through both its layers: cut a corner away."
)
WORST = Severity.ERROR
SOURCE = "common practice, geometry"


def check(folded: FoldedBook) -> Iterator[Finding]:
    """Yield each block of two by two cells whose four edges fold and cannot."""
    for part in distinct_parts(folded):
        for crossing in crossings(part.part):
            if not crossing.can_be_made:
                keys = [ray.key for ray in crossing.vertex.rays]
                panels = sorted({panel for key in keys for panel in key.panels()})
                names = listed([f"the {panel_words(folded.book, part.key, n)}" for n in panels])
                yield Finding(
                    Severity.ERROR,
                    Spot(part.key, panels[0], crossing.vertex.point),
                    f"{names} meet in one point, and every line between them folds"
                    f"{and_others(part.number)}",
                    _remedy(crossing),
                    Amount(len(keys), "folds"),
                )


def _remedy(crossing: Crossing) -> str:
    if crossing.is_straight:
        return (
            "fold the straight one of the two folds in a step before the other, so that the other"
            " goes through both its layers"
        )
    return "cut one of the four cells away (a dot in the map), or part two of them by a slit"
