"""A panel that stands through another one once a step of folding is finished."""

from __future__ import annotations

from collections.abc import Iterator

from ...folding.caught import stands_through
from ...folding.folded_book import FoldedBook
from ...folding.layering import Clash, ClashKind
from ..finding import Amount, Finding, Severity, Spot
from ..words import DistinctPart, and_others, distinct_parts, panel_words, shown

NAME = "pierced"
WHY = (
    "A wall or a panel cannot stand through another: what goes inside has to be smaller than what"
    " it goes into."
)
WORST = Severity.ERROR
SOURCE = "geometry"


def check(folded: FoldedBook) -> Iterator[Finding]:
    """Yield every two panels that stand through each other, after which step, and how far."""
    for part in distinct_parts(folded):
        for clash in part.folded.layering.clashes:
            if clash.kind is ClashKind.PIERCED:
                yield _finding(folded, part, clash)


def _finding(folded: FoldedBook, part: DistinctPart, clash: Clash) -> Finding:
    first, second = (panel_words(folded.book, part.key, n) for n in (clash.first, clash.second))
    through = stands_through(part.folded, clash.first, clash.second, clash.step)
    by = shown(folded.book, through)
    return Finding(
        Severity.ERROR,
        Spot(part.key, clash.second),
        f"after step {clash.step}, the {first} and the {second} stand through each other"
        f" by {by}{and_others(part.number)}",
        f"make the one that goes inside, or the gusset that it hangs on, smaller by {by}, or"
        f" widen the gusset that goes round it by as much",
        Amount(through),
    )
