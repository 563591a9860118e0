"""An edge of a board, or the outside of the spine board, is not covered."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from ...folding.folded_book import FoldedBook
from ...paths import Point
from ..board_edges import BoardEdge
from ..case_cover import CoveredBoard, bare_of, covered_boards, spine_board
from ..finding import Amount, Finding, Severity, Spot
from ..words import shown

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

NEARLY = 0.5  #: mm; less does not show, and a turn-in that tapers leaves as much at its fold (m)
#: mm that are left at the end of a board's thickness, for rounding
HAIR = 0.02

NAME = "board left bare"
WHY = (
    "The joint wrap and the edge strips cover every edge of the boards, corners too, and the wrap the"
    " outside of the spine: elsewhere grey board would show and wear."
)
WORST = Severity.WARNING
SOURCE = "geometry: what is laid on the outside reaches beyond the edge by the board's thickness at least"


def check(folded: FoldedBook) -> Iterator[Finding]:
    """Yield edges of boards that stay bare, each with the length that is bare."""
    for board in covered_boards(folded):
        yield from (finding for edge in board.edges for finding in _edge(folded, board, edge))
    spine = spine_board(folded)
    if spine:
        yield from _outside(folded, spine)


def _edge(folded: FoldedBook, board: CoveredBoard, edge: BoardEdge) -> Iterator[Finding]:
    """Yield a finding where nothing is folded over the thickness of a board."""
    from shapely import LineString

    over = board.thick - HAIR
    line = LineString([edge.moved_out(end, over) for end in (edge.start, edge.end)])
    bare = bare_of(line, [covering.sheet for covering in board.coverings])
    if bare.length <= NEARLY:
        return
    book = folded.book
    long = shown(book, bare.length)
    yield Finding(
        Severity.WARNING,
        Spot(board.key, board.entry.part.panels[0].name, _middle(bare)),
        f"{long} of the {edge.name} of the {board.entry.title} stay bare"
        f" ({shown(book, edge.length)} long in all)",
        f"cover {long} more of it: make the strip or the wrap there longer, or lay it nearer to the bare end",
        Amount(bare.length),
    )


def _outside(folded: FoldedBook, board: CoveredBoard) -> Iterator[Finding]:
    bare = bare_of(board.shape, [covering.sheet for covering in board.coverings])
    width = bare.area / max(edge.length for edge in board.edges)
    if width <= NEARLY:
        return
    book = folded.book
    yield Finding(
        Severity.WARNING,
        Spot(board.key, board.entry.part.panels[0].name, _middle(bare)),
        f"the joint wrap leaves the outside of the {board.entry.title} bare: a strip {shown(book, width)} wide",
        f"make the wrap {shown(book, width)} wider over the spine",
        Amount(width),
    )


def _middle(shape: BaseGeometry) -> Point:
    middle = shape.representative_point()
    return Point(middle.x, middle.y)
