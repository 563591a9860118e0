"""What of some boxes goes on one sheet: asked of the fillers, and asked only once.

A filler finds a way or it does not; "no" is no proof. So each set is tried in several
orders and with every filler, and the answer is kept. Of sets of many boxes, which can be
listed in more ways than those, a filler that takes its time may be asked last.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from .greedy import Largest, largest_first
from .order import Filled, Filler, Order, Work

#: kinds of the boxes on one sheet, ascending
Kinds = tuple[int, ...]
MANY = 12  #: boxes; of sets larger than that the patient filler is asked
SWAP_ORDERS = 2  #: in which boxes are listed behind one that shall get a place in any case


class Left(NamedTuple):
    """A filled sheet, and the boxes that found no room on it."""

    kinds: Kinds
    filled: Filled


class Trials:
    """Answers of the fillers for one order; asking counts as work, also for what is known."""

    def __init__(
        self, order: Order, fillers: Sequence[Filler], work: Work, patient: Filler | None = None
    ) -> None:
        self.areas = tuple(box.area for box in order.boxes)
        self._beds = order.beds
        self._fillers = tuple(fillers)
        self._patient = patient
        self._work = work
        self._ranks = tuple(_ranks(order, by) for by in Largest)
        self._whole: dict[tuple[int, Kinds], Filled | None] = {}
        self._left: dict[tuple[int, Kinds, int], tuple[Left, ...]] = {}

    def area(self, kinds: Kinds) -> int:
        """Return the area of boxes."""
        return sum(self.areas[kind] for kind in kinds)

    def whole(self, bed: int, kinds: Kinds) -> Filled | None:
        """Return a sheet that holds all the boxes, or None where none was found."""
        self._work.spend(1 + len(kinds) // 4)
        key = (bed, kinds)
        if key not in self._whole:
            fits = self.area(kinds) <= self._beds[bed].area
            self._whole[key] = self._held(bed, kinds) if fits else None
        return self._whole[key]

    def _held(self, bed: int, kinds: Kinds) -> Filled | None:
        for ranks in self._ranks:
            listed = sorted(kinds, key=ranks.__getitem__)
            for filler in self._fillers:
                filled = filler(listed, bed, self._work)
                if not filled.left:
                    return filled
        return self._held_with_patience(bed, kinds)

    def _held_with_patience(self, bed: int, kinds: Kinds) -> Filled | None:
        if self._patient is None or len(kinds) <= MANY:
            return None
        filled = self._patient(kinds, bed, self._work)
        return None if filled.left else filled

    def left_by(self, bed: int, kinds: Kinds, kind: int) -> tuple[Left, ...]:
        """Return sheets that hold *kind* and what goes of *kinds* beside it, and what is left."""
        self._work.spend(1 + len(kinds) // 4)
        key = (bed, kinds, kind)
        if key not in self._left:
            found = dict(self._filled_beside(bed, kinds, kind))
            self._left[key] = tuple(Left(*item) for item in found.items())
        return self._left[key]

    def _filled_beside(self, bed: int, kinds: Kinds, kind: int) -> Iterator[Left]:
        for ranks in self._ranks[:SWAP_ORDERS]:
            listed = [kind, *sorted(kinds, key=ranks.__getitem__)]
            for filler in self._fillers:
                filled = filler(listed, bed, self._work)
                left = tuple(sorted(listed[place] for place in filled.left))
                if kind not in left:
                    yield Left(left, filled)


def _ranks(order: Order, by: Largest) -> tuple[int, ...]:
    """Return the place of each kind when the largest comes first."""
    ranks = [0] * len(order.boxes)
    for place, kind in enumerate(largest_first(order, by)):
        ranks[kind] = place
    return tuple(ranks)
