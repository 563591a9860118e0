"""Mitres do not meet: the corner of a board stays bare between them."""

from __future__ import annotations

from collections.abc import Iterator

from ...book.book import BookPart
from ...folding.folded_book import FoldedBook
from ...paths import Point
from ..finding import Amount, Finding, Severity, Spot
from ..mitres import corner_words, side_words, thickest_board
from ..strip_corners import StripCorner, strip_corners
from ..words import part_words, shown
from ..wrap_corners import WrapCorner, wrap_corners

NEARLY = 0.1  #: mm along the edge

NAME = "mitre gap"
WHY = (
    "At a corner the cuts of both turn-ins or strips have to meet once they are folded in. A cut that passes"
    " the corner of the board nearer than 0.71 of its thickness leaves the corner bare; so does a straight"
    " 45-degree cut at a blunt corner."
)
WORST = Severity.WARNING
SOURCE = "geometry: turn-ins just meet at t / sqrt 2 (derived); at other corners on the bisector"


def check(folded: FoldedBook) -> Iterator[Finding]:
    """Yield corners that stay bare: of edge strips on boards, and of wraps."""
    for corner in strip_corners(folded):
        if corner.gap > NEARLY:
            yield _between_strips(folded, corner)
    thick = thickest_board(folded.book)
    for entry in folded.book.parts if thick else ():
        for wrapped in wrap_corners(entry.part, thick):
            if wrapped.gap > NEARLY:
                yield _of_wrap(folded, entry, wrapped)


def _between_strips(folded: FoldedBook, corner: StripCorner) -> Finding:
    book, gap = folded.book, corner.gap
    first, second = (part_words(book, t.covering.key) for t in (corner.first, corner.second))
    return Finding(
        Severity.WARNING,
        Spot(corner.first.covering.key, corner.first.covering.panel),
        f"between {first} and {second} a gap of {shown(book, gap)} stays bare {side_words(corner.side)}"
        f" the corner {corner_words(corner)}",
        f"make the strips {shown(book, gap / 2)} longer each at this corner, cut along its bisector",
        Amount(gap),
    )


def _of_wrap(folded: FoldedBook, entry: BookPart, corner: WrapCorner) -> Finding:
    book, gap = folded.book, corner.gap
    return Finding(
        Severity.WARNING,
        Spot(entry.key, corner.first.panel, Point(*corner.place)),
        f"{part_words(book, entry.key)}: the turn-ins leave {shown(book, gap)} of the board bare at a corner"
        f" of {2 * corner.half_deg:.0f} degrees",
        f"cut {shown(book, gap)} farther from the corner along each edge, on the mirror image of the"
        " corner's bisector",
        Amount(gap),
    )
