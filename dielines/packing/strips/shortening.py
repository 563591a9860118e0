"""A strip made shorter and shorter, for as long as the overlaps that come of it can be undone."""

from __future__ import annotations

from dielines.packing.lots import Lots
from dielines.packing.lying import NoRoom
from dielines.packing.order import Work
from dielines.packing.strips.board import Board, Spot, used_length
from dielines.packing.strips.first_strip import first_spots
from dielines.packing.strips.fits import Fits
from dielines.packing.strips.outline import Strip, StripOrder, length_bound
from dielines.packing.strips.separation import separated

_SEED = 1
_PATIENCE = 100  #: rounds without anything better, until a try is given up
_FIRST_STEP = 50  #: parts of the length that are cut off at first
_TRIES = 3  #: that go on from the last overlaps, until the best strip is taken up again


def short_strip(order: StripOrder, work: Work) -> Strip:
    """Return the shortest strip that was found before the work was over.

    The first one is found at once, however little the work. Each part must fit
    across the strip in one of its turns. Raises CrossingOutline and NoRoom.
    """
    fits = Fits(order, work)
    misfits = [fits.items[item] for item, lying in enumerate(fits.of) if not lying]
    if misfits:
        raise NoRoom(misfits)
    if not fits.items:
        return Strip((), 0)
    spots = first_spots(order, fits)
    spots = _Shortening(order, fits, spots).run()
    placed = tuple(fits.placed(item, *spot) for item, spot in enumerate(spots))
    return Strip(placed, used_length(fits, spots))


class _Shortening:
    """The best strip so far, and where the next try starts."""

    def __init__(self, order: StripOrder, fits: Fits, spots: list[Spot]) -> None:
        self.order, self.fits = order, fits
        self.best = self.start = spots
        self.length = used_length(fits, spots)
        self.step = max(self.length // _FIRST_STEP, order.pitch)
        self.failures = 0
        self.lots = Lots(_SEED)

    def run(self) -> list[Spot]:
        bound = length_bound(self.order)
        while self.length > bound and not self.fits.work.is_over:
            self.attempt(max(self.length - self.step, bound))
        return self.best

    def attempt(self, length: int) -> None:
        """Try for a strip of a length."""
        board = Board(self.fits, length, self.order.width)
        board.spots = [
            board.nearest(item, spot.x, spot.y, spot.lying) for item, spot in enumerate(self.start)
        ]
        found = separated(board, self.lots, _PATIENCE)
        if found.overlap == 0:
            self.succeed(list(found.spots))
        else:
            self.fail(list(found.spots))

    def succeed(self, spots: list[Spot]) -> None:
        self.best = self.start = spots
        self.length = used_length(self.fits, spots)
        self.step = max(min(self.step, self.length // (2 * _FIRST_STEP)), self.order.pitch)
        self.failures = 0

    def fail(self, spots: list[Spot]) -> None:
        """Try for less next time, from the overlaps that are left or from the best strip."""
        self.step = max(self.step // 2, self.order.pitch)
        self.failures += 1
        self.start = self.best if self.failures % _TRIES == 0 else spots
