"""How edge strips meet at the corners of a board, outside and inside."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from ..folding.folded_book import FoldedBook
from ..folding.keeping import kept_with
from ..part import Side
from .board_edges import BoardEdge
from .case_cover import CoveredBoard, TurnedIn, bare_of, cover_boards

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

WHOLE = 0.95  #: share of a corner from which on a strip's end counts as square, not mitred
LEAST_AREA = 1e-6  #: mm2


@dataclass(frozen=True)
class StripCorner:
    """Two strips at a corner of a board, on one side of it.

    *gap* and *overlap* are the widths (mm, along the edge) of what neither covers and
    of what both do; where an end is square, strips overlap as they should, and
    *is_mitred* is False.
    """

    board: CoveredBoard
    first: TurnedIn
    second: TurnedIn
    side: Side
    gap: float
    overlap: float
    is_mitred: bool


def strip_corners(folded: FoldedBook) -> tuple[StripCorner, ...]:
    """Return all corners of the cover boards at which two strips meet; kept with the book."""
    return kept_with(
        folded,
        "strip corners",
        lambda: tuple(found for board in cover_boards(folded) for found in _corners(board)),
    )


def _corners(board: CoveredBoard) -> Iterator[StripCorner]:
    for edge, following in zip(board.edges, [*board.edges[1:], board.edges[0]], strict=True):
        first = max(board.turned_at(edge), key=lambda t: t.runs[1], default=None)
        second = min(board.turned_at(following), key=lambda t: t.runs[0], default=None)
        if first and second and first.covering is not second.covering:
            yield from _both_sides(board, first, second)


def _both_sides(board: CoveredBoard, first: TurnedIn, second: TurnedIn) -> Iterator[StripCorner]:
    reach = first.outside, second.outside
    if first.edge.length - first.runs[1] < reach[1] and second.runs[0] < reach[0]:
        sheets = [covering.sheet for covering in board.coverings]
        shapes = (first.covering.sheet, second.covering.sheet)
        yield _corner(board, (first, second), Side.FACE, reach, shapes, sheets)
        reach = first.inside, second.inside
        if min(reach) > 0:
            inner = [turned.inner for turned in board.turned_in]
            ends = (first.inner, second.inner)
            yield _corner(board, (first, second), Side.REVERSE, reach, ends, inner)


def _corner(
    board: CoveredBoard,
    strips: tuple[TurnedIn, TurnedIn],
    side: Side,
    reach: tuple[float, float],
    shapes: tuple[BaseGeometry, BaseGeometry],
    others: Sequence[BaseGeometry],
) -> StripCorner:
    cell = _cell(board, strips[0].edge, strips[1].edge, reach)
    ends = [shape.intersection(cell) for shape in shapes]
    gap, overlap = bare_of(cell, others).area, ends[0].intersection(ends[1]).area
    is_mitred = max(end.area for end in ends) < WHOLE * cell.area
    along = sum(reach) / 2
    return StripCorner(board, *strips, side, _off(gap, along), _off(overlap, along), is_mitred)


def _off(area: float, reach: float) -> float:
    """Return how far along the edge a mitre is off that leaves this area bare, or covers it twice.

    Between the bisector of a corner and a mitre that is off by d lie two triangles less
    one another: reach^2 / 2 - (reach - d)^2 / 2.
    """
    return reach - math.sqrt(max(reach**2 - 2 * area, 0.0))


def _cell(
    board: CoveredBoard, edge: BoardEdge, following: BoardEdge, reach: tuple[float, float]
) -> BaseGeometry:
    """Return what of a board both strips at a corner could cover."""
    lanes = edge.lane(-reach[0], 0), following.lane(-reach[1], 0)
    return board.shape.intersection(lanes[0]).intersection(lanes[1])
