"""What lies on one sheet, and where there is still room."""

from __future__ import annotations

from ..order import Placed, Work
from .raster import Corner, Raster


class Sheet:
    """What lies on one sheet, and which places are closed to each stance.

    A stance learns of what was put down only when it is asked for a place.
    """

    def __init__(self, raster: Raster, work: Work) -> None:
        self.raster = raster
        self._lying: list[tuple[int, int]] = []  #: stance and place
        self._work = work
        self._closed = [stance.outside for stance in raster.stances]
        self._seen = [0] * len(raster.stances)

    def put(self, stance: int, place: int) -> None:
        """Lay a stance down at a place."""
        self._lying.append((stance, place))

    def placed(self) -> tuple[Placed, ...]:
        """Return what lies on the sheet."""
        found = []
        for number, place in self._lying:
            stance = self.raster.stances[number]
            x, y = (at * self.raster.cell for at in self.raster.position(number, place))
            found.append(Placed(stance.kind, x, y, stance.quarters))
        return tuple(found)

    def free_place(self, stance: int, corner: Corner) -> int | None:
        """Return the free place of a stance that lies farthest into a corner."""
        width = self.raster.width
        free = self.raster.everywhere ^ self._closed_now(stance)
        self._work.spend(self.raster.steps)
        if not free:
            return None
        edge = (free if corner.is_low else _lowest_of(free)).bit_length() - 1
        if corner in (Corner.LOW_LEFT, Corner.HIGH_RIGHT):
            return edge
        start = edge - edge % width
        row = free >> start & (1 << width) - 1
        aside = row if corner.is_left else _lowest_of(row)
        return start + aside.bit_length() - 1

    def has_place(self, stance: int) -> bool:
        """Return whether a stance finds a place at all."""
        return self._closed_now(stance) != self.raster.everywhere

    def has_place_after(self, stance: int, other: int, place: int) -> bool:
        """Return whether a stance would still find a place with *other* laid down at *place*."""
        closed = self._closed_now(stance) | self._closed_by(stance, other, place)
        self._work.spend(self.raster.steps)
        return closed != self.raster.everywhere

    def _closed_now(self, stance: int) -> int:
        news = self._lying[self._seen[stance] :]
        if news:
            closed = self._closed[stance]
            for other, place in news:
                closed |= self._closed_by(stance, other, place)
            self._closed[stance] = closed
            self._seen[stance] = len(self._lying)
            self._work.spend(len(news) * self.raster.steps)
        return self._closed[stance]

    def _closed_by(self, stance: int, other: int, place: int) -> int:
        meetings = self.raster.meetings(stance, other, self._work)
        shift = place - self.raster.stances[stance].last
        return meetings << shift if shift >= 0 else meetings >> -shift


def _lowest_of(bits: int) -> int:
    return bits & -bits
