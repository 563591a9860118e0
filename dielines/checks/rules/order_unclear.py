"""The steps of folding do not say which of two panels lies over the other."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from ...folding.folded_book import FoldedBook
from ...folding.layering import Pair
from ..finding import Amount, Finding, Severity, Spot
from ..words import and_others, distinct_parts, panel_words

NAME = "order unclear"
WHY = (
    "Which panel is folded first decides which lies on top, and so which side of it the tape"
    " goes on."
)
WORST = Severity.ERROR
SOURCE = "geometry"
MOST = 3  #: pairs that are named


def check(folded: FoldedBook) -> Iterator[Finding]:
    """Yield each part whose layers could lie in more orders than one."""
    for part in distinct_parts(folded):
        pairs = part.folded.layering.ambiguous
        if pairs:
            yield Finding(
                Severity.ERROR,
                Spot(part.key, pairs[0][1]),
                "it can be folded in more ways than one, and nothing says which lies on top:"
                f" {_named(folded, part.key, pairs)}{and_others(part.number)}",
                "let the steps of the template fold one after the other, in the order in which"
                " hands do it",
                Amount(len(pairs), "pairs of panels"),
            )


def _named(folded: FoldedBook, key: str, pairs: Sequence[Pair]) -> str:
    """Return the first few pairs of panels, and how many more there are."""
    named = [
        " or ".join(f"the {panel_words(folded.book, key, panel)}" for panel in pair)
        for pair in pairs[:MOST]
    ]
    more = len(pairs) - MOST
    if more > 0:
        named.append(f"and {more} more pair{'s' if more > 1 else ''}")
    return "; ".join(named)
