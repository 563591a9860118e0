"""Panels that hang together in a ring would tear at some stage of folding."""

from __future__ import annotations

from collections.abc import Iterator

from ...folding.folded_book import FoldedBook
from ...folding.folded_part import FoldedPart
from ...poses import FINISHED
from ..finding import Amount, Finding, Severity, Spot
from ..words import and_others, distinct_parts, panel_words, shown

NAME = "loop open"
WHY = (
    "Where panels hang together all round, paper does not stretch: each stage of folding has to"
    " close, not only the last."
)
WORST = Severity.ERROR
SOURCE = "geometry: the poses of rigid panels along both ways round"


def check(folded: FoldedBook) -> Iterator[Finding]:
    """Yield for each part the fold that gapes most, and when."""
    for part in distinct_parts(folded):
        if part.folded.open_loops:
            worst = max(part.folded.open_loops, key=lambda residual: residual.gap)
            first, second = (
                panel_words(folded.book, part.key, name)
                for name in (worst.key.first, worst.key.second)
            )
            percent = round(100 * float(worst.stage))
            yield Finding(
                Severity.ERROR,
                Spot(part.key, worst.key.second),
                f"the fold between the {first} and the {second} would tear: {percent} % of the way it"
                f" gapes by {shown(folded.book, worst.gap)}{and_others(part.number)}",
                _remedy(part.folded),
                Amount(worst.gap),
            )


def _remedy(folded: FoldedPart) -> str:
    """Return what mends a ring: where it closes at the end, it is folded in the wrong way only."""
    if all(residual.stage < FINISHED for residual in folded.open_loops):
        return (
            "let the steps make the folds around that corner one after the other, the straight one"
            " first, or let one of them give the other way"
        )
    return (
        "cut a slit at that corner, or give the panels on both ways round it sizes and angles that"
        " meet again"
    )
