"""Pages do not clear each other when they are turned."""

from __future__ import annotations

from collections.abc import Iterator

from ...folding.folded_book import FoldedBook
from ...folding.turning_pages import Collision, collisions
from ..finding import Amount, Finding, Severity, Spot
from ..words import panel_words, part_words, shown

NAME = "pages collide"
WHY = (
    "What folds and stands in one opening, from both its pages, needs room there one over the other;"
    " else it is caught when the page is turned."
)
WORST = Severity.ERROR
SOURCE = (
    "geometry of the cross-section: the two leaves beside each opening, their channel opening like"
    " a U, at angles from closed to flat"
)


def check(folded: FoldedBook) -> Iterator[Finding]:
    """Yield the deepest collision of each opening."""
    for collision in collisions(folded.book, folded.parts, folded.assembly):
        yield _finding(folded, collision)


def _finding(folded: FoldedBook, collision: Collision) -> Finding:
    book = folded.book
    (first, panel), (second, other) = collision.front, collision.back
    return Finding(
        Severity.ERROR,
        Spot(first, panel),
        f"the {panel_words(book, first, panel)} of {part_words(book, first)} and the"
        f" {panel_words(book, second, other)} of {part_words(book, second)} are"
        f" {shown(book, collision.depth)} in each other's way, {_when(collision)}",
        _remedy(collision, shown(book, collision.depth)),
        Amount(collision.depth),
    )


def _remedy(collision: Collision, depth: str) -> str:
    where = f"the channel between page {collision.opening} and page {collision.opening + 1}"
    if not collision.angle_deg:
        return f"make {where} {depth} wider, or what stands in it so much lower"
    return f"make {where} wider, or fold what stands in it flat: it reaches through by {depth}"


def _when(collision: Collision) -> str:
    if not collision.angle_deg:
        return "closed already"
    return f"the book open by {collision.angle_deg:g} degrees"
