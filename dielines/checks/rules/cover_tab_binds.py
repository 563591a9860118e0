"""A cover tab holds its cover back when that opens, or shows beside the joint."""

from __future__ import annotations

from collections.abc import Iterator

from ...folding.cover_tabs import CoverTab, cover_tabs
from ...folding.folded_book import FoldedBook
from ..finding import Advice, Amount, Finding, Severity, Spot
from ..right_sizes import NEAR, rounded_up
from ..words import panel_words, part_words, shown

NAME = "cover tab binds"
WHY = (
    "Between its fold and its tape a cover tab must be as long as its way across the joint, or the"
    " cover does not open flat; it narrows from its fold on, so that it neither shows at head and"
    " tail nor rubs in the joint."
)
WORST = Severity.ERROR
SOURCE = "geometry of the open cover; the taper: common practice, no source"

SLACK = 0.05  #: mm by which a way may seem longer
TAUT = 2.0  #: mm of way lacking that paper and cloth give (m)


def check(folded: FoldedBook) -> Iterator[Finding]:
    """Yield the tabs that are taut before the cover lies flat, then those that do not narrow."""
    for tab in cover_tabs(folded.book, folded.assembly):
        lacking = tab.way - tab.free
        if lacking > SLACK:
            yield _taut(folded, tab, lacking)
        wide = tab.at_board - tab.at_fold
        if wide > -NEAR:
            yield _not_narrowed(folded, tab, wide if wide > NEAR else 0.0)


def _taut(folded: FoldedBook, tab: CoverTab, lacking: float) -> Finding:
    book = folded.book
    # With this much more the tab reaches as far as it is taped; what it is taped by stays.
    right = rounded_up(book, tab.way + _held(folded, tab))
    return Finding(
        Severity.ERROR if lacking > TAUT else Severity.WARNING,
        Spot(tab.join.part, tab.join.panel),
        f"between its fold and the {book.part(tab.board).title} the"
        f" {panel_words(book, tab.join.part, tab.join.panel)} of {part_words(book, tab.join.part)}"
        f" has {shown(book, max(tab.free, 0.0))} for a way of {shown(book, tab.way)}: the cover"
        " cannot open flat",
        f"tape it {shown(book, lacking)} nearer to its far edge, or make it so much longer",
        Amount(lacking),
        (Advice("usual.cover_tab", right),),
    )


def _held(folded: FoldedBook, tab: CoverTab) -> float:
    """Return how much of the tab is to lie on its board: what does now, at least a hinge tab."""
    wanted = float(folded.book.reasons.length("hinge_tab").mm)
    return max(tab.length - tab.free, wanted)


def _not_narrowed(folded: FoldedBook, tab: CoverTab, wide: float) -> Finding:
    book = folded.book
    taper = rounded_up(book, tab.length / 8)
    return Finding(
        Severity.WARNING,
        Spot(tab.join.part, tab.join.panel),
        f"the {panel_words(book, tab.join.part, tab.join.panel)} of {part_words(book, tab.join.part)}"
        f" is {shown(book, tab.at_board)} high at the edge of the"
        f" {book.part(tab.board).title}, no less than at its fold: it rubs in the joint and shows",
        f"let it narrow by about {shown(book, taper.mm)} on each side up to its far edge",
        Amount(wide),
        (Advice("usual.taper", taper),),
    )
