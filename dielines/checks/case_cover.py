"""What covers the boards of a case: laid on their outsides and turned in round their edges.

Case parts are found by the roles of their stock and by the joins. All places are in the
flat coordinates of a board as its outside shows it, mm (floats); a covering is taken
flat, as it lies before it is folded round the edge.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

from ..book.book import Book, BookPart
from ..folding.case_places import BOARDS, spine_key
from ..folding.folded_book import FoldedBook
from ..folding.keeping import kept_with
from ..part import Side
from ..part_motion import Motion
from ..paths import flattened
from .board_edges import BoardEdge, Place, edges_of
from .laying import joins_onto, likeliest

if TYPE_CHECKING:
    from shapely import Polygon
    from shapely.geometry.base import BaseGeometry

SAGITTA = 0.01  #: mm, how far a chord lies from its arc
AT_EDGE = 5.0  #: mm; a fold that lies farther from an edge is not the fold round it
FAR = 1000.0  #: mm, farther than any covering reaches


@dataclass(frozen=True)
class Covering:
    """A part that lies on the outside of a board, as *motion* brings it there."""

    entry: BookPart
    panel: str
    motion: Motion

    @property
    def key(self) -> str:
        """The key of its part."""
        return self.entry.key

    @cached_property
    def sheet(self) -> Polygon:
        """The whole part, flat."""
        from shapely import Polygon

        rings = [flattened(self.motion.path(ring), SAGITTA) for ring in self.entry.part.outline]
        return Polygon(rings[0], rings[1:])

    def unlaid(self, place: Place) -> Place:
        """Return which place of the flat part lies at *place* on the board.

        The rows of a quarter turn or a mirror, exchanged, undo it.
        """
        m = self.motion
        x, y = place[0] - float(m.dx), place[1] - float(m.dy)
        return m.a * x + m.c * y, m.b * x + m.d * y

    @cached_property
    def folds(self) -> list[tuple[Place, Place]]:
        """Its folds, each from end to end."""
        return [
            (points[0], points[-1])
            for line in self.entry.part.folds
            if line.angle_deg
            for piece in line.pieces
            for points in [flattened(self.motion.path(piece), SAGITTA)]
        ]


@dataclass(frozen=True)
class TurnedIn:
    """A covering that is folded round an edge of a board.

    *depth* is how much of it lies beyond the edge, *inside* how far it reaches on the
    inside: less by the board's thickness. *outside* is how far it reaches on the outside.
    """

    covering: Covering
    edge: BoardEdge
    depth: float
    inside: float
    outside: float
    runs: tuple[float, float]  #: from where to where along the edge it is folded
    inner: BaseGeometry  #: what lies on the inside, as seen through the board


@dataclass(frozen=True)
class CoveredBoard:
    """A board and what lies on its outside."""

    entry: BookPart
    coverings: tuple[Covering, ...]

    @property
    def key(self) -> str:
        """The key of the board."""
        return self.entry.key

    @property
    def thick(self) -> float:
        """How thick the board is."""
        return float(self.entry.stock.caliper.mm)

    @cached_property
    def corners(self) -> list[Place]:
        """The corners of its outline, counter-clockwise."""
        return flattened(self.entry.part.outline[0], SAGITTA)

    @cached_property
    def shape(self) -> Polygon:
        """Its outline."""
        from shapely import Polygon

        return Polygon(self.corners)

    @cached_property
    def edges(self) -> tuple[BoardEdge, ...]:
        """Its edges, counter-clockwise."""
        return edges_of(self.key, self.corners)

    @cached_property
    def turned_in(self) -> tuple[TurnedIn, ...]:
        """All that is folded round its edges."""
        found = (_turned(self, covering, e) for covering in self.coverings for e in self.edges)
        return tuple(turned for turned in found if turned is not None)

    def turned_at(self, edge: BoardEdge) -> list[TurnedIn]:
        """Return what is folded round *edge*."""
        return [turned for turned in self.turned_in if turned.edge is edge]


def covered_boards(folded: FoldedBook) -> tuple[CoveredBoard, ...]:
    """Return the boards of the book, the spine board too; they stay with it, once worked out."""
    return kept_with(folded, "covered boards", lambda: tuple(_covered_boards(folded.book)))


def _covered_boards(book: Book) -> Iterator[CoveredBoard]:
    for entry in book.parts:
        if entry.role == BOARDS:
            yield CoveredBoard(entry, tuple(_coverings(book, entry)))


def cover_boards(folded: FoldedBook) -> list[CoveredBoard]:
    """Return the boards but for the spine board."""
    spine = spine_key(folded.book)
    return [board for board in covered_boards(folded) if board.key != spine]


def spine_board(folded: FoldedBook) -> CoveredBoard | None:
    """Return the spine board; None where the book has none."""
    spine = spine_key(folded.book)
    return next((board for board in covered_boards(folded) if board.key == spine), None)


# ------------------------------------------------------------------ coverings in their places


def _coverings(book: Book, board: BookPart) -> Iterator[Covering]:
    """Yield what lies on the outside of a board."""
    laid = [join for join in joins_onto(book, board.key) if join.onto_side is Side.FACE]
    for join in laid:
        entry = book.part(join.part)
        yield Covering(entry, join.panel, likeliest(book, join, board))


def _turned(board: CoveredBoard, covering: Covering, edge: BoardEdge) -> TurnedIn | None:
    from shapely import get_coordinates

    if not any(_runs_along(fold, edge) for fold in covering.folds):
        return None
    beyond = covering.sheet.intersection(edge.lane(0, FAR))
    depth = _farthest(beyond, edge, 1)
    if depth <= 0:
        return None
    on_it = covering.sheet.intersection(board.shape)
    inner = _folded_in(beyond.intersection(edge.lane(board.thick, FAR)), edge, board.thick)
    outside = _farthest(on_it, edge, -1)
    places = [edge.run((x, y)) for x, y in get_coordinates(beyond).tolist()]
    runs = min(places), max(places)
    return TurnedIn(covering, edge, depth, depth - board.thick, outside, runs, inner)


def _runs_along(fold: tuple[Place, Place], edge: BoardEdge) -> bool:
    """Return whether a fold lies at *edge*, parallel to it, at least in part beside it."""
    if any(abs(edge.beyond(end)) > AT_EDGE for end in fold):
        return False
    spots = sorted(edge.run(end) for end in fold)
    is_level = abs(edge.beyond(fold[0]) - edge.beyond(fold[1])) < 0.1 * (spots[1] - spots[0])
    return is_level and spots[1] > 0 and spots[0] < edge.length


def _farthest(shape: BaseGeometry, edge: BoardEdge, sign: int) -> float:
    from shapely import get_coordinates

    return max(
        (sign * edge.beyond((x, y)) for x, y in get_coordinates(shape).tolist()), default=0.0
    )


def _folded_in(shape: BaseGeometry, edge: BoardEdge, thick: float) -> BaseGeometry:
    """Return what lies beyond an edge folded to the inside, nearer by the board's thickness."""
    from shapely import get_coordinates, set_coordinates

    places = get_coordinates(shape).tolist()
    turned = [edge.moved_out((x, y), thick - 2 * edge.beyond((x, y))) for x, y in places]
    return set_coordinates(shape, turned) if turned else shape


def bare_of(shape: BaseGeometry, covers: Sequence[BaseGeometry]) -> BaseGeometry:
    """Return what of *shape* none of *covers* lies on."""
    from shapely import union_all

    return shape.difference(union_all(covers)) if covers else shape
