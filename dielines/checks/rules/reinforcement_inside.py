"""A reinforcement lies on the inside of the folds that it strengthens."""

from __future__ import annotations

from collections.abc import Iterator

from ...book.book import BookPart
from ...book.join_words import listed
from ...book.working_steps import strengthened
from ...folding.folded_book import FoldedBook
from ...part import Line, Side
from ...workshop.stock import StockKind
from ..finding import Amount, Finding, Severity, Spot
from ..words import DistinctPart, and_others, distinct_parts, line_words

NAME = "reinforcement inside"
WHY = (
    "A reinforcement strengthens a fold on its outside, where the paper is stretched; inside it"
    " buckles. The backing of book cloth is another thing: it lies where it does not show."
)
WORST = Severity.WARNING
SOURCE = "common practice; outside is the reverse of a valley, the face of a mountain (FOLD 1.2)"

OUTSIDE = {True: Side.REVERSE, False: Side.FACE}  #: by whether the fold is a valley


def check(folded: FoldedBook) -> Iterator[Finding]:
    """Yield each reinforcement that has folds it strengthens on its wrong side.

    One that strengthens folds of both signs is inside of some wherever it lies; it is
    told where it is inside of more than outside.
    """
    for part in distinct_parts(folded):
        host = strengthened(folded.book, part.entry)
        if host is not None and host.stock.kind is not StockKind.COVERING:
            folds = strengthened_folds(part.entry, host)
            wrong = [fold for fold in folds if _outside(fold) is not part.part.covers_side]
            if 2 * len(wrong) > len(folds):
                yield _finding(folded, part, host, wrong)


def strengthened_folds(entry: BookPart, host: BookPart) -> list[Line]:
    """Return the folds of *host* that a reinforcement lies across: at those panels that it covers."""
    covered = set(entry.part.covers)
    return [line for line in host.part.folds if line.angle_deg and line.key.panels() & covered]


def _outside(fold: Line) -> Side:
    return OUTSIDE[fold.angle_deg > 0]


def _finding(folded: FoldedBook, part: DistinctPart, host: BookPart, wrong: list[Line]) -> Finding:
    book, side = folded.book, part.part.covers_side
    names = [line_words(book, host.key, fold.key) for fold in wrong]
    other = Side.REVERSE if side is Side.FACE else Side.FACE
    return Finding(
        Severity.WARNING,
        Spot(part.key),
        f"it is glued onto the {side.value}, the inside of the folds {listed(names)}"
        f"{and_others(part.number)}",
        f"glue it onto the {other.value}",
        Amount(len(wrong), "folds"),
    )
