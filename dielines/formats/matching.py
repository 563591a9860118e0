"""Which path of one drawing is which of the other: in order first, then the nearest."""

from __future__ import annotations

import math
from collections import OrderedDict, defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from itertools import islice, product

from ..drawing import Item
from ..paths import bounds_of
from .deviation import REACH, SAME, deviation, deviation_in_step

_CELL = 2 * REACH
_MOST_TRIED = 16  # candidates per path, so that the work stays linear whatever the drawings hold

Cell = tuple[int, ...]


@dataclass(frozen=True, eq=False)
class Piece:
    """A path of one drawing with the key of its part."""

    item: Item
    part: str

    @cached_property
    def edges(self) -> tuple[float, ...]:
        """Left, bottom, right and top, mm."""
        return tuple(float(edge) for edge in bounds_of([self.item.path]))

    def cells(self) -> Iterator[Cell]:
        """Yield every cell in which something within reach may lie."""
        lows = (math.floor(edge / _CELL - 0.5) for edge in self.edges)
        return product(*((low, low + 1) for low in lows))

    def cell(self) -> Cell:
        """Return the cell in which the piece itself lies."""
        return tuple(math.floor(edge / _CELL) for edge in self.edges)

    def is_near(self, other: Piece) -> bool:
        """Whether no edge is out of reach."""
        return all(abs(a - b) <= REACH for a, b in zip(self.edges, other.edges, strict=True))


@dataclass
class Matching:
    """Pairs with their deviation (mm), and what found no partner."""

    pairs: list[tuple[Piece, Piece, float]] = field(default_factory=list)
    missing: list[Piece] = field(default_factory=list)
    extra: list[Piece] = field(default_factory=list)


def matched(written: Sequence[Piece], read: Sequence[Piece]) -> Matching:
    """Return which piece is which; all of one layer.

    Pieces in the same place of the same part are partners when they lie within
    ``SAME``. The others look for the nearest piece: first all that have one
    within ``SAME``, then those within ``REACH``; farther apart, they are one
    missing and one extra.
    """
    result = Matching()
    _match_in_order(written, read, result)
    for limit in (SAME, REACH):
        if result.missing and result.extra:
            _match_nearest(result, limit)
    return result


def _match_in_order(written: Iterable[Piece], read: Iterable[Piece], result: Matching) -> None:
    theirs = _by_part(read)
    for part, ours in _by_part(written).items():
        others = theirs.pop(part, [])
        if len(ours) != len(others):
            result.missing += ours
            result.extra += others
            continue
        for a, b in zip(ours, others, strict=True):
            _pair_or_leave(a, b, result)
    result.extra += [piece for left in theirs.values() for piece in left]


def _by_part(pieces: Iterable[Piece]) -> dict[str, list[Piece]]:
    parts: dict[str, list[Piece]] = defaultdict(list)
    for piece in pieces:
        parts[piece.part].append(piece)
    return parts


def _pair_or_leave(a: Piece, b: Piece, result: Matching) -> None:
    apart = deviation_in_step(a.item.path, b.item.path)
    if apart <= SAME:
        result.pairs.append((a, b, apart))
    else:
        result.missing.append(a)
        result.extra.append(b)


def _apart(a: Piece, b: Piece) -> float:
    return deviation(a.item.path, b.item.path) if a.is_near(b) else math.inf


def _match_nearest(result: Matching, limit: float) -> None:
    grid = _Grid(result.extra)
    missing, result.missing = result.missing, []
    for piece in missing:
        partner, apart = grid.nearest(piece, limit)
        if partner is None:
            result.missing.append(piece)
        else:
            grid.remove(partner)
            result.pairs.append((piece, partner, apart))
    result.extra = [piece for piece in result.extra if piece in grid]


class _Grid:
    """Pieces by where their edges lie, in order, each to be taken once."""

    def __init__(self, pieces: Iterable[Piece]) -> None:
        self.cells: dict[Cell, OrderedDict[Piece, None]] = defaultdict(OrderedDict)
        for piece in pieces:
            self.cells[piece.cell()][piece] = None

    def __contains__(self, piece: Piece) -> bool:
        return piece in self.cells[piece.cell()]

    def remove(self, piece: Piece) -> None:
        del self.cells[piece.cell()][piece]

    def nearest(self, piece: Piece, limit: float) -> tuple[Piece | None, float]:
        """Return the piece nearest to *piece* among those within *limit*, with the distance."""
        best: tuple[Piece | None, float] = None, limit
        for other in islice(self._around(piece), _MOST_TRIED):
            apart = _apart(piece, other)
            if apart < best[1] or (best[0] is None and apart <= limit):
                best = other, apart
            if apart == 0:
                break
        return best

    def _around(self, piece: Piece) -> Iterator[Piece]:
        for cell in piece.cells():
            yield from self.cells.get(cell, ())
