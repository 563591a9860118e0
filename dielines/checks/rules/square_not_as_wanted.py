"""The boards stand out beyond the pages by more or less than the book asks for."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import NamedTuple

from ...bindings.bound import Towards
from ...folding.case_places import FRONT, board_edge, only, spine_corner
from ...folding.folded_book import FoldedBook
from ...folding.squares import SIDES, Extent, beyond, board_extents, is_grafted, reaches
from ...lengths import inches
from ..finding import Advice, Amount, Finding, Severity, Spot
from ..words import part_words, shown

NAME = "square not as wanted"
WHY = (
    "The boards stand out alike at head and tail, and at the fore-edge by what the closed joint"
    " leaves; a square that differs shows on every page."
)
WORST = Severity.WARNING
SOURCE = (
    "geometry of the closed book; squares of 1/8 to 1/4 in: Bailey, Library Bookbinding (1916);"
    " Vaughn, Printing and Bookbinding for Schools; Bean and Brodhead (1914)"
)

LEAST = 0.05  #: mm; what differs by less is as wanted
#: squares at head and tail of the handbooks named above, mm
HANDBOOKS = float(inches("1/8").mm), float(inches("1/4").mm)


class Judged(NamedTuple):
    """A square of the whole block of pages: what it is, what it should be, and the page concerned."""

    board: str
    side: str
    page: str
    size: float
    wanted: float


def check(folded: FoldedBook) -> Iterator[Finding]:
    """Yield each side of each board whose square differs, then what handbooks would say."""
    judged = list(_judged(folded))
    for square in judged:
        if abs(square.size - square.wanted) > LEAST:
            yield _finding(folded, square)
    yield from _by_handbooks(folded)


def _judged(folded: FoldedBook) -> Iterator[Judged]:
    """Yield the squares of the block, at each board and side.

    The block reaches as far as the page that reaches farthest: pages that are meant to
    be smaller do not count. A page with a tab is as wide with it or without it.
    """
    pages = _page_extents(folded)
    for board, extent in board_extents(folded.assembly).items():
        for side in SIDES if pages else ():
            wanted = _wanted(folded, board, side)
            sizes = {
                page: min((beyond(extent, e, side) for e in extents), key=lambda s: abs(s - wanted))
                for page, extents in pages.items()
            }
            page = min(sizes, key=lambda key: round(sizes[key], 6))
            yield Judged(board, side, page, sizes[page], wanted)


def _page_extents(folded: FoldedBook) -> dict[str, list[Extent]]:
    """Return how far the bound panel of each page reaches, and how far all of the page does."""
    found = {}
    for page, leaf in reaches(folded.book, folded.assembly).items():
        own = [reach for reach in leaf if reach.part == page and not is_grafted(reach.panel)]
        root = [reach.extent for reach in own if reach.panel == folded.parts[page].root]
        if root:
            rights, bottoms, tops = zip(*(reach.extent for reach in own), strict=True)
            found[page] = [*root, Extent(max(rights), min(bottoms), max(tops))]
    return found


def _wanted(folded: FoldedBook, board: str, side: str) -> float:
    """Return the square that the sizes of the book ask for; at the fore-edge the joint adds to it."""
    reasons = folded.book.reasons
    if side != "fore-edge":
        return float(reasons.length("square").mm)
    return float(reasons.length("fore_edge").mm) + _set_back(folded, board)


def _set_back(folded: FoldedBook, board: str) -> float:
    """Return how far a board is set back from the binding edge by a joint that is as wide as asked for."""
    assembly = folded.assembly
    if assembly.case is None:
        return 0.0
    bench, case = assembly.bench, assembly.case
    towards = Towards.FRONT if board == FRONT else Towards.BACK
    corner = spine_corner(bench, case, only(assembly.places[case.spine]), towards)
    rise = board_edge(bench, case, only(assembly.places[board]), board)[1] - corner[1]
    joint = float(folded.book.reasons.length("joint").mm)
    return corner[0] + math.sqrt(max(0.0, joint**2 - rise**2))


def _finding(folded: FoldedBook, square: Judged) -> Finding:
    book, by = folded.book, square.size - square.wanted
    more = "more" if by > 0 else "less"
    return Finding(
        Severity.WARNING,
        Spot(square.board),
        f"at the {square.side} the {book.part(square.board).title} stands out"
        f" {shown(book, square.size)} beyond {part_words(book, square.page)}, {shown(book, abs(by))}"
        f" {more} than the {shown(book, square.wanted)} wanted",
        f"bring page, board and their joins {shown(book, abs(by))} nearer to what was asked for",
        Amount(abs(by)),
    )


def _by_handbooks(folded: FoldedBook) -> Iterator[Finding]:
    """Yield a remark where the square that is asked for is not one of the handbooks."""
    book = folded.book
    square = float(book.reasons.length("square").mm)
    low, high = HANDBOOKS
    off = max(low - square, square - high)
    if off > LEAST * 4:
        yield Finding(
            Severity.REMARK,
            Spot(),
            f"squares of {shown(book, square)} at head and tail are outside of what handbooks"
            f" give, {shown(book, low)} to {shown(book, high)}",
            f"a square {shown(book, off)} {'wider' if square < low else 'narrower'} is usual",
            Amount(off),
            (Advice("usual.square", inches("1/8") if square < low else inches("1/4")),),
        )
