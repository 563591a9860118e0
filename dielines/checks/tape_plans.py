"""The tape plan of a book, worked out once for all rules that look at it."""

from __future__ import annotations

from ..folding.folded_book import FoldedBook
from ..folding.keeping import kept_with
from ..taping.plan import tape_plan
from ..taping.strips import TapePlan


def tape_plan_of(folded: FoldedBook) -> TapePlan:
    """Return the tape plan of the book; it stays with it."""
    return kept_with(folded, "tape plan", lambda: tape_plan(folded.book))
