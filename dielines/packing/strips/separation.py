"""Parts moved one by one to where they overlap the others least, until none overlaps.

Each overlap has a weight that grows while it lasts, so that parts leave places
where they are always in the way (guided local search). Sources: Egeblad, Nielsen and
Odgaard, "Fast neighborhood search for two- and three-dimensional nesting problems"
(2007); Umetani et al., "Solving the irregular strip packing problem via guided local
search for overlap minimization" (2009).
"""

from __future__ import annotations

from typing import NamedTuple

from dielines.packing.lots import Lots
from dielines.packing.strips.board import ONCE, Board, Spot
from dielines.packing.strips.fits import CALL

#: A weight is at most so much, so that the sums stay below 2 ** 31.
_MOST = ONCE << 10


class Separated(NamedTuple):
    """The spots at which the parts overlapped least, and how deep; 0: none overlaps."""

    overlap: int
    spots: tuple[Spot, ...]


def separated(board: Board, lots: Lots, patience: int) -> Separated:
    """Return the best that came of moving parts on a full board.

    It ends when nothing overlaps, when *patience* rounds in a row brought nothing
    better, or when the work is over.
    """
    search = _Search(board, lots)
    best = Separated(search.overlap(), search.spots())
    idle = 0
    while best.overlap and idle < patience and not board.fits.work.is_over:
        search.move_all()
        search.weigh()
        idle += 1
        if search.overlap() < best.overlap:
            best, idle = Separated(search.overlap(), search.spots()), 0
    return best


class _Search:
    """The overlaps of a board, by pairs of parts, and the weights that are not ``ONCE``."""

    def __init__(self, board: Board, lots: Lots) -> None:
        self.board, self.lots = board, lots
        items = range(len(board.spots))
        self.depths: list[dict[int, int]] = [{} for _ in items]
        self.weights: list[dict[int, int]] = [{} for _ in items]
        for item in items:
            self.measure(item)

    def spots(self) -> tuple[Spot, ...]:
        return tuple(spot for spot in self.board.spots if spot)

    def overlap(self) -> int:
        return sum(sum(row.values()) for row in self.depths) // 2

    def measure(self, item: int) -> None:
        """Find out anew what a part overlaps."""
        for other in self.depths[item]:
            del self.depths[other][item]
        self.depths[item] = self.board.neighbours(item)
        for other, deep in self.depths[item].items():
            self.depths[other][item] = deep

    def move_all(self) -> None:
        """Move each part that overlaps another, in an order drawn by lot."""
        overlapping = [item for item, row in enumerate(self.depths) if row]
        for item in self.lots.shuffled(overlapping):
            if self.depths[item] and not self.board.fits.work.is_over:
                self.move(item)

    def move(self, item: int) -> None:
        """Move a part to a place where it overlaps least, by the weights: never a worse one."""
        self.board.spots[item] = self.best_spot(item)
        self.measure(item)

    def best_spot(self, item: int) -> Spot:
        """Return one of the spots, drawn by lot, at which a part overlaps least."""
        import numpy as np

        weights = self.weights[item] | {item: 0}
        ways = self.board.ways(item)
        maps = [self.board.map(lying, weights) for lying in ways]
        least = [int(found.min()) for found in maps]
        at = least.index(min(least))
        places = np.flatnonzero(maps[at] == least[at])
        x, y = divmod(int(places[self.lots.below(len(places))]), maps[at].shape[1])
        self.board.fits.work.spend(2 * sum(found.size for found in maps))
        return Spot(ways[at], x, y)

    def weigh(self) -> None:
        """Let the weights of overlaps grow, the more the deeper; let all others fade."""
        deepest = max((max(row.values()) for row in self.depths if row), default=1)
        for item, row in enumerate(self.depths):
            old = self.weights[item]
            faded = {other: old[other] * 95 // 100 for other in old if other not in row}
            grown = {
                other: min(
                    _MOST, old.get(other, ONCE) * (12 * deepest + 8 * deep) // (10 * deepest)
                )
                for other, deep in row.items()
            }
            self.weights[item] = {n: weight for n, weight in faded.items() if weight > ONCE} | grown
        self.board.fits.work.spend(CALL * len(self.depths))
