"""Scores and cuts that run side by side."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from .flat_shapes import SAME, FlatShapes, Piece, Place, near_pairs

SINE = math.sin(math.radians(5))  #: up to this angle two lines are taken to run side by side
LEAST_RUN = 2.0  #: mm; two lines that are side by side for less are not judged


@dataclass(frozen=True)
class SideBySide:
    """Two lines, by their indices, that run side by side: how far apart, for how long, and where."""

    line: int
    other: int
    apart: float
    run: float
    middle: Place


def scores_beside_cuts(shapes: FlatShapes, within: float) -> list[SideBySide]:
    """Return where a score runs beside a cut nearer than *within*; nearest first."""
    pairs = near_pairs(shapes.score_pieces, shapes.cut_pieces, within)
    met = _side_by_side(shapes.score_pieces, shapes.cut_pieces, pairs)
    return _gathered(met)


def scores_beside_scores(shapes: FlatShapes, within: float) -> list[SideBySide]:
    """Return where two scores run side by side nearer than *within*; nearest first."""
    pieces = shapes.score_pieces
    pairs = (
        (i, j) for i, j in near_pairs(pieces, pieces, within) if pieces[i].owner < pieces[j].owner
    )
    met = _side_by_side(pieces, pieces, pairs)
    return _gathered(met)


def _side_by_side(
    pieces: Sequence[Piece], others: Sequence[Piece], pairs: Iterator[tuple[int, int]]
) -> Iterator[SideBySide]:
    for i, j in pairs:
        found = side_by_side(pieces[i], others[j])
        if found is not None:
            yield found


def side_by_side(piece: Piece, other: Piece) -> SideBySide | None:
    """Return how two straight pieces run beside each other; None where they do not.

    Places are measured along *piece*; *other* is as far away as in the middle of the run.
    """
    (x0, y0), (x1, y1) = piece.start, piece.end
    ux, uy = (x1 - x0) / piece.length, (y1 - y0) / piece.length
    ends = [(x - x0, y - y0) for x, y in (other.start, other.end)]
    along = [ux * x + uy * y for x, y in ends]
    aside = [ux * y - uy * x for x, y in ends]
    low, high = max(min(along), 0.0), min(max(along), piece.length)
    if high - low <= SAME or abs(aside[1] - aside[0]) > SINE * other.length:
        return None
    middle = (low + high) / 2
    share = (middle - along[0]) / (along[1] - along[0])
    gap = aside[0] + share * (aside[1] - aside[0])
    place = (x0 + ux * middle - uy * gap / 2, y0 + uy * middle + ux * gap / 2)
    return SideBySide(piece.owner, other.owner, abs(gap), high - low, place)


def _gathered(met: Iterator[SideBySide]) -> list[SideBySide]:
    """Return one for each two lines: the nearest place, and all that they run side by side."""
    runs: dict[tuple[int, int], list[SideBySide]] = {}
    for found in met:
        runs.setdefault((found.line, found.other), []).append(found)
    gathered = [_as_one(pieces) for pieces in runs.values()]
    return sorted(
        (found for found in gathered if found.run >= LEAST_RUN),
        key=lambda found: (found.apart, found.line, found.other),
    )


def _as_one(pieces: list[SideBySide]) -> SideBySide:
    nearest = min(pieces, key=lambda found: (found.apart, found.middle))
    run = sum(found.run for found in pieces)
    return SideBySide(nearest.line, nearest.other, nearest.apart, run, nearest.middle)
