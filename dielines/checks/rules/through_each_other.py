"""Two panels would have to come through each other while the part is folded."""

from __future__ import annotations

from collections.abc import Iterator

from ...folding.folded_book import FoldedBook
from ...folding.layering import ClashKind
from ..finding import Amount, Finding, Severity, Spot
from ..words import and_others, distinct_parts, panel_words

NAME = "through each other"
WHY = "Two layers of paper cannot pass through each other: one of them has to be folded first."
WORST = Severity.ERROR
SOURCE = "geometry"


def check(folded: FoldedBook) -> Iterator[Finding]:
    """Yield every two panels that land on each other from both sides, with the step."""
    for part in distinct_parts(folded):
        for clash in part.folded.layering.clashes:
            if clash.kind is ClashKind.THROUGH:
                first, second = (
                    panel_words(folded.book, part.key, name) for name in (clash.first, clash.second)
                )
                yield Finding(
                    Severity.ERROR,
                    Spot(part.key, clash.second),
                    f"in step {clash.step} of folding {first} and {second} would have to come"
                    f" through each other{and_others(part.number)}",
                    f"fold one of them in a step before the other: in the template, let steps say"
                    f" which of {first} and {second} goes first",
                    Amount(clash.step, "step"),
                )
