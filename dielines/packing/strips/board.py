"""The parts on a strip of fixed length, overlapping as they may.

For each part as it may lie, a map tells how deep it would lie in all others, at
every point of the raster at once: the sum of their depths, moved to where they are.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING, NamedTuple

from dielines.packing.strips.fits import CALL, Fits

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

#: An overlap counts once where its weight is so much.
ONCE = 64


class Spot(NamedTuple):
    """A part as it lies (a number of ``Fits.lying``), its lower left corner in pitches."""

    lying: int
    x: int
    y: int


class _Map(NamedTuple):
    """How deep a part would lie in others, by the point of its corner; where those others were."""

    depths: NDArray[np.int32]
    spots: list[Spot | None]


class Board:
    """Parts on a strip of *length* and *width*; None where a part is not on it."""

    def __init__(self, fits: Fits, length: int, width: int) -> None:
        self.fits, self.length, self.width = fits, length, width
        self.spots: list[Spot | None] = [None] * len(fits.items)
        self._maps: list[_Map | None] = [None] * len(fits.lying)

    def room(self, lying: int) -> tuple[int, int]:
        """Return how many points there are along and across for a part that lies so."""
        one, pitch = self.fits.lying[lying], self.fits.pitch
        along, across = (self.length - one.width) // pitch, (self.width - one.height) // pitch
        return max(along + 1, 0), max(across + 1, 0)

    def ways(self, item: int) -> list[int]:
        """Return how a part may lie where the board is long enough for it."""
        return [lying for lying in self.fits.of[item] if min(self.room(lying)) > 0]

    def nearest(self, item: int, x: int, y: int, lying: int) -> Spot:
        """Return the spot of a part nearest to a point; *lying* so if the board is long enough."""
        ways = self.ways(item)
        chosen = lying if lying in ways else ways[0]
        along, across = self.room(chosen)
        return Spot(chosen, min(x, along - 1), min(y, across - 1))

    def neighbours(self, item: int) -> dict[int, int]:
        """Return the parts that a part overlaps, and how deep, in eighths of a pitch."""
        here = self.spots[item]
        if here is None:
            return {}
        row, found = self.fits.near[here.lying], {}
        self.fits.work.spend(CALL * len(self.spots) // 4)
        for other, there in enumerate(self.spots):
            if there is None or other == item:
                continue
            left, right, below, above = row[there.lying]
            x, y = there.x - here.x, there.y - here.y
            if -left <= x <= right and -below <= y <= above:
                deep = self.fits.depths(here.lying, there.lying)[x + left, y + below]
                if deep:
                    found[other] = int(deep)
        return found

    def map(self, lying: int, weights: Mapping[int, int]) -> NDArray[np.int32]:
        """Return how deep a part would lie in those on the board, each counted by its weight.

        *weights*: of the parts that do not count once, in parts of ``ONCE``.
        """
        found = self._up_to_date(lying).copy()
        self.fits.work.spend(CALL + found.size)
        for item, weight in weights.items():
            spot = self.spots[item]
            if spot:
                self._add(found, spot, lying, weight - ONCE)
        return found

    def _up_to_date(self, lying: int) -> NDArray[np.int32]:
        """Return the map of a part by itself, with all that has moved since it was last asked."""
        import numpy as np

        known = self._maps[lying]
        if known is None:
            known = _Map(np.zeros(self.room(lying), np.int32), [None] * len(self.spots))
            self._maps[lying] = known
        for item, (before, now) in enumerate(zip(known.spots, self.spots, strict=True)):
            if before is not now:
                known.spots[item] = now
                if before:
                    self._add(known.depths, before, lying, -ONCE)
                if now:
                    self._add(known.depths, now, lying, ONCE)
        return known.depths

    def _add(self, depths: NDArray[np.int32], spot: Spot, lying: int, weight: int) -> None:
        deep = self.fits.depths(spot.lying, lying)
        back, _, down, _ = self.fits.near[spot.lying][lying]
        left, below = spot.x - back, spot.y - down
        first_x, first_y = max(left, 0), max(below, 0)
        last_x = min(left + deep.shape[0], depths.shape[0])
        last_y = min(below + deep.shape[1], depths.shape[1])
        if first_x >= last_x or first_y >= last_y:
            self.fits.work.spend(CALL // 2)
            return
        there = depths[first_x:last_x, first_y:last_y]
        part = deep[first_x - left : last_x - left, first_y - below : last_y - below]
        self.fits.work.spend(CALL + part.size)
        if weight == ONCE:
            there += part
        elif weight == -ONCE:
            there -= part
        else:
            there += part * weight // ONCE


def used_length(fits: Fits, spots: Iterable[Spot]) -> int:
    """Return the length that parts take, in units of the order."""
    return max((spot.x * fits.pitch + fits.lying[spot.lying].width for spot in spots), default=0)
