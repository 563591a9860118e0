"""Panels that hang together in a ring would tear at some stage of folding."""

from __future__ import annotations

from collections.abc import Iterator

from ...folding.folded_book import FoldedBook
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
                f"the fold between {first} and {second} would tear: {percent} % of the way it"
                f" gapes by {shown(folded.book, worst.gap)}{and_others(part.number)}",
                "let one of the folds around that corner give the other way, or cut a slit there",
                Amount(worst.gap),
            )
