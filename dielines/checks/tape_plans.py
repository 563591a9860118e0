"""The tape plan of a book, worked out once for all rules that look at it."""

from __future__ import annotations

from ..folding.folded_book import FoldedBook
from ..taping.plan import tape_plan
from ..taping.strips import TapePlan


def tape_plan_of(folded: FoldedBook) -> TapePlan:
    """Return the tape plan of the book; it stays with it."""
    kept = vars(folded)
    if "tape_plan" not in kept:
        kept["tape_plan"] = tape_plan(folded.book)
    plan: TapePlan = kept["tape_plan"]
    return plan
