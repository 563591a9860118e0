"""The steps of folding do not say which of two panels lies over the other."""

from __future__ import annotations

from collections.abc import Iterator

from ...folding.folded_book import FoldedBook
from ..finding import Amount, Finding, Severity, Spot
from ..words import and_others, distinct_parts, listed, panel_words

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
            names = listed(
                [
                    " or ".join(f"the {panel_words(folded.book, part.key, p)}" for p in pair)
                    for pair in pairs[:MOST]
                ]
            )
            yield Finding(
                Severity.ERROR,
                Spot(part.key, pairs[0][1]),
                f"it can be folded in more ways than one, and nothing says which lies on top:"
                f" {names}{and_others(part.number)}",
                "let the steps of the template fold one after the other, in the order in which"
                " hands do it",
                Amount(len(pairs), "pairs of panels"),
            )
