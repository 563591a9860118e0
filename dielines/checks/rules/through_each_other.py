"""Two panels would have to come through each other while the part is folded."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from ...book.join_words import listed
from ...folding.folded_book import FoldedBook
from ...folding.layering import Clash, ClashKind
from ...folding.sequences import needs_sequences
from ..finding import Amount, Finding, Severity, Spot
from ..words import DistinctPart, and_others, distinct_parts, panel_words

NAME = "through each other"
WHY = "Two layers of paper cannot pass through each other: one of them has to be folded first."
WORST = Severity.ERROR
SOURCE = "geometry"
MOST = 3  #: pairs that are named


def check(folded: FoldedBook) -> Iterator[Finding]:
    """Yield each step of a part in which panels land on each other from both sides."""
    for part in distinct_parts(folded):
        by_step: dict[int, list[Clash]] = {}
        for clash in part.folded.layering.clashes:
            if clash.kind is ClashKind.THROUGH:
                by_step.setdefault(clash.step, []).append(clash)
        for step, clashes in by_step.items():
            yield Finding(
                Severity.ERROR,
                Spot(part.key, clashes[0].second),
                f"{_when(part, step)}, {_pairs(folded, part, clashes)} would have to come through"
                f" each other{and_others(part.number)}",
                _remedy(part),
                Amount(step, "step"),
            )


def _when(part: DistinctPart, step: int) -> str:
    if part.part.steps:
        return f"in step {step} of folding"
    if needs_sequences(part.part):
        return "in whichever order it is folded"
    return "folded all at once"


def _pairs(folded: FoldedBook, part: DistinctPart, clashes: Sequence[Clash]) -> str:
    """Return the first few pairs of panels, and how many more there are."""
    pairs = [
        " with ".join(
            f"the {panel_words(folded.book, part.key, name)}"
            for name in (clash.first, clash.second)
        )
        for clash in clashes
    ]
    more = len(pairs) - MOST
    if more > 0:
        pairs[MOST:] = [f"{more} more pair{'s' if more > 1 else ''} of panels"]
    return listed(pairs)


def _remedy(part: DistinctPart) -> str:
    if needs_sequences(part.part):
        return "let one of these folds give the other way, or make one of the panels smaller"
    return (
        "fold one of them in a step before the other: in the template, let the steps say which goes"
        " first"
    )
