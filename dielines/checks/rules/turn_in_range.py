"""The turn-in is outside of what handbooks have."""

from __future__ import annotations

from collections.abc import Iterator

from ...folding.folded_book import FoldedBook
from ..case_cover import covered_boards
from ..finding import Advice, Amount, Finding, Severity, Spot
from ..right_sizes import rounded_up
from ..words import part_words, shown

ROLE = "wrap"
LEAST = 12.7  #: mm, 1/2 in: "lap to fold over" (Bean & Brodhead)
MOST = 25.4  #: mm, about 1 in, leather (Cockerell p. 154)
ROUNDED = 0.75  #: mm; a round number of the other unit is meant to be the same

NAME = "turn-in range"
WHY = "Handbooks fold 1/2 to 1 in round the edge of a board: 3/4 in for cloth and paper, about 1 in for leather."
WORST = Severity.REMARK
SOURCE = (
    "Bean & Brodhead 1914: lap of 1/2 in; Vaughn, Printing and Bookbinding for Schools: 3/4 in; Cockerell 1901,"
    " p. 154: about 1 in"
)


def check(folded: FoldedBook) -> Iterator[Finding]:
    """Yield a remark for each wrap whose turn-in is shorter or longer than that."""
    worst: dict[str, float] = {}
    for board in covered_boards(folded):
        for turned in board.turned_in:
            key = turned.covering.key
            if turned.covering.entry.role == ROLE:
                worst[key] = max(worst.get(key, turned.depth), turned.depth, key=_out)
    for key, depth in worst.items():
        if _out(depth) > ROUNDED:
            yield _finding(folded, key, depth)


def _out(depth: float) -> float:
    """Return by how much a turn-in is out of the range, mm; below 0 within it."""
    return max(LEAST - depth, depth - MOST)


def _finding(folded: FoldedBook, key: str, depth: float) -> Finding:
    book = folded.book
    off = _out(depth)
    limit = "least" if depth < LEAST else "most"
    bound = LEAST if depth < LEAST else MOST
    step = rounded_up(book, LEAST) if depth < LEAST else rounded_up(book, MOST - 0.5)
    is_usual = abs(float(book.reasons.length("turn_in").mm) - depth) < 0.01
    return Finding(
        Severity.REMARK,
        Spot(key),
        f"{part_words(book, key)}: the turn-ins are {shown(book, depth)}; handbooks have {shown(book, bound)} at {limit}",
        f"make them {shown(book, off)} {'longer' if depth < LEAST else 'shorter'}, if you have no reason of your own",
        Amount(off),
        (Advice("usual.turn_in", step),) if is_usual else (),
    )
