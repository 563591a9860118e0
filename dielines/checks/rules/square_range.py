"""The squares at head and tail are outside of what handbooks have."""

from __future__ import annotations

from collections.abc import Iterator

from ...folding.folded_book import FoldedBook
from ..case_cover import cover_boards
from ..finding import Advice, Amount, Finding, Severity, Spot
from ..right_sizes import rounded_up
from ..words import shown

LEAST = 3.175  #: mm, 1/8 in (Bailey; Vaughn; Bean & Brodhead)
MOST = 6.35  #: mm, 1/4 in (Bean & Brodhead)
ROUNDED = 0.35  #: mm; a round number of the other unit is meant to be the same

NAME = "square range"
WHY = "Handbooks let the boards stand out 1/8 to 1/4 in over the pages at head and tail: less wears the pages, more bends."
WORST = Severity.REMARK
SOURCE = (
    "Bailey 1916, boards cut: 1/8 in; Vaughn, Printing and Bookbinding for Schools: 1/8 to 3/16 in; Bean &"
    " Brodhead 1914: 1/8 to 1/4 in"
)


def check(folded: FoldedBook) -> Iterator[Finding]:
    """Yield one remark where the boards stand out less or more than that."""
    page = float(folded.book.reasons.length("page_height").mm)
    for board in cover_boards(folded):
        square = (float(board.entry.part.height) - page) / 2
        if not LEAST - ROUNDED <= square <= MOST + ROUNDED:
            yield _finding(folded, board.key, square)
            return


def _finding(folded: FoldedBook, key: str, square: float) -> Finding:
    book = folded.book
    is_small = square < LEAST
    off = LEAST - square if is_small else square - MOST
    bound, limit = (LEAST, "least") if is_small else (MOST, "most")
    wanted = rounded_up(book, LEAST if is_small else MOST - 0.5)
    is_usual = abs(float(book.reasons.length("square").mm) - square) < 0.01
    return Finding(
        Severity.REMARK,
        Spot(key),
        f"the boards stand out {shown(book, square)} over the pages at head and tail; handbooks have"
        f" {shown(book, bound)} at {limit}",
        f"make the square {shown(book, off)} {'larger' if is_small else 'smaller'}, if you have no reason of your own",
        Amount(off),
        (Advice("usual.square", wanted),) if is_usual else (),
    )
