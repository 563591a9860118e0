"""A page sticks out of its covers, closed or open."""

from __future__ import annotations

from collections.abc import Iterator

from ...folding.folded_book import FoldedBook
from ...folding.squares import Square, closed_squares, open_squares
from ..finding import Advice, Amount, Finding, Severity, Spot
from ..right_sizes import NEAR, rounded_up
from ..words import panel_words, part_words, shown

NAME = "sticks out of case"
WHY = (
    "What reaches beyond the boards is bent and soiled: covers are larger than the pages on every"
    " side but the spine, whether the book is closed or open."
)
WORST = Severity.ERROR
SOURCE = "geometry: the pages in the closed book, and open flat between any two of them"

#: the size that sets how far the boards stand out on a side
SETTINGS = {"head": "square", "tail": "square", "fore-edge": "fore_edge"}


FAR = 25.0  #: mm that nobody makes boards larger by: what sticks out so far is folded wrongly (m)


def check(folded: FoldedBook) -> Iterator[Finding]:
    """Yield what sticks out farthest on each side of each page, closed; else where it is open."""
    found: dict[tuple[str, str], Square] = {}
    for square in closed_squares(folded.book, folded.assembly):
        if square.size < -NEAR:
            _keep(found, square)
    for square in open_squares(folded.book, folded.parts, folded.assembly):
        if square.size < -NEAR and (square.page, square.side) not in found:
            _keep(found, square)
    for square in found.values():
        yield _finding(folded, square)


def _keep(found: dict[tuple[str, str], Square], square: Square) -> None:
    """Keep the worst of each page and side."""
    key = square.page, square.side
    if key not in found or square.size < found[key].size - NEAR:
        found[key] = square


def _finding(folded: FoldedBook, square: Square) -> Finding:
    book, out = folded.book, -square.size
    where = "the closed book" if square.opening is None else _open_words(square.opening)
    what = panel_words(book, square.part, square.panel)
    remedy, advice = _remedy(folded, square, out)
    return Finding(
        Severity.ERROR,
        Spot(square.part, square.panel),
        f"the {what} of {part_words(book, square.part)} sticks out of the"
        f" {book.part(square.board).title} by {shown(book, out)} at the {square.side} in {where}",
        remedy,
        Amount(out),
        (advice,) if advice else (),
    )


def _remedy(folded: FoldedBook, square: Square, out: float) -> tuple[str, Advice | None]:
    """Return what to change: the page or the boards; where opening alone does it, the spine."""
    book = folded.book
    if square.opening is not None:
        wider = (
            f"make the spine {shown(book, 2 * out)} wider, so that the covers need not move inwards"
        )
        return wider, Advice("spine.width", "to fit")
    if out > FAR:
        return f"make it {shown(book, out)} shorter there, or fold it the other way", None
    size = SETTINGS[square.side]
    right = rounded_up(book, float(book.reasons.length(size).mm) + out)
    shorter = f"make it {shown(book, out)} shorter there, or the boards so much larger"
    return shorter, Advice(f"usual.{size}", right)


def _open_words(opening: int) -> str:
    return f"the book that is open between page {opening} and page {opening + 1}"
