"""A cover tab does not reach its board across the joint, or hardly does."""

from __future__ import annotations

from collections.abc import Iterator

from ...folding.cover_tabs import CoverTab, cover_tabs
from ...folding.folded_book import FoldedBook
from ..finding import Advice, Amount, Finding, Severity, Spot
from ..right_sizes import NEAR, rounded_up
from ..words import panel_words, part_words, shown

NAME = "cover tab reach"
WHY = (
    "The cover tab goes along the rest of the spine, across the joint and round the edges of two"
    " boards before it reaches its board; what then lies on the board carries the whole book."
)
WORST = Severity.ERROR
SOURCE = (
    "geometry of the open cover; two board thicknesses round the edges, and at least the width of"
    " a hinge tab (a fin) on the board: common practice, no source"
)


def check(folded: FoldedBook) -> Iterator[Finding]:
    """Yield the tabs that reach too little, and those whose tape lies beyond the board."""
    for tab in cover_tabs(folded.book, folded.assembly):
        if tab.off_board > NEAR:
            yield _off_board(folded, tab)
        lacking = _wanted(folded) - tab.reach
        if lacking > NEAR:
            yield _too_short(folded, tab, lacking)


def _wanted(folded: FoldedBook) -> float:
    """Return how much of the tab should lie on the board: as much as holds any other page."""
    return float(folded.book.reasons.length("hinge_tab").mm)


def _too_short(folded: FoldedBook, tab: CoverTab, lacking: float) -> Finding:
    book = folded.book
    reaches = max(tab.reach, 0.0)
    is_error = tab.reach < NEAR
    amount = -tab.reach if is_error else lacking
    how = f"only {shown(book, reaches)} of it lie on" if not is_error else "it does not reach"
    right = rounded_up(book, float(book.reasons.length("cover_tab").mm) + lacking)
    return Finding(
        Severity.ERROR if is_error else Severity.WARNING,
        Spot(tab.join.part, tab.join.panel),
        f"the {panel_words(book, tab.join.part, tab.join.panel)} of {part_words(book, tab.join.part)}"
        f" is {shown(book, tab.length)} long and has {shown(book, tab.way)} to go to the"
        f" {book.part(tab.board).title}: {how} the board",
        f"make the cover tabs of the book {shown(book, right.mm)} long, or spine and joint narrower",
        Amount(amount),
        (Advice("usual.cover_tab", right),),
    )


def _off_board(folded: FoldedBook, tab: CoverTab) -> Finding:
    book = folded.book
    return Finding(
        Severity.ERROR,
        Spot(tab.join.part, tab.join.panel),
        f"the tape of the {panel_words(book, tab.join.part, tab.join.panel)} of"
        f" {part_words(book, tab.join.part)} reaches {shown(book, tab.off_board)} beyond the"
        f" {book.part(tab.board).title}",
        f"move the tape {shown(book, tab.off_board)} onto the board",
        Amount(tab.off_board),
    )
