"""One sheet filled as full as can be, by searching for the order in which boxes are listed.

Two boxes change places in the list, the sheet is filled anew, and the new list is kept
if the sheet is at least as full as it was some steps ago (late acceptance: Burke and
Bykov, "The late acceptance hill-climbing heuristic", 2017, from memory).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from .greedy import Largest, largest_first
from .lots import Lots
from .order import Filled, Filler, Order, Work

AGO = 100  #: steps; common practice, tuned on published problems
_NOTHING = Filled((), ())


@dataclass
class _Search:
    """A list of boxes that is being changed, and how full the sheet was in the last steps."""

    order: Order
    filler: Filler
    bed: int
    work: Work
    lots: Lots
    listed: list[int] = field(default_factory=list)
    area: int = -1
    best: Filled = _NOTHING
    most: int = -1

    def fill(self, listed: Sequence[int]) -> int:
        """Return the area of the boxes that go on the sheet in that order; keep the best."""
        filled = self.filler(listed, self.bed, self.work)
        area = sum(self.order.boxes[box.kind].area for box in filled.placed)
        if area > self.most:
            self.best, self.most = filled, area
        return area

    def start(self, listed: list[int]) -> None:
        """Begin from that list where it fills more than the one before."""
        area = self.fill(listed)
        if area > self.area:
            self.listed, self.area = listed, area


def fullest(order: Order, filler: Filler, kinds: Sequence[int], bed: int, work: Work) -> Filled:
    """Return one sheet with as much of the boxes listed on it as was found.

    *left* names places in *kinds*, as with any filler. It ends when all boxes lie on
    the sheet, or with the work; one filling is made in any case.
    """
    search = _Search(order, filler, bed, work, Lots(1))
    for by in Largest:
        ranked = {kind: place for place, kind in enumerate(largest_first(order, by))}
        if search.area < 0 or not work.is_over:
            search.start(sorted(kinds, key=ranked.__getitem__))
    _improve(search, min(order.beds[bed].area, sum(order.boxes[kind].area for kind in kinds)))
    return search.best._replace(left=_places_left(kinds, search.best))


def searching_filler(order: Order, filler: Filler, steps: int) -> Filler:
    """Return a filler that searches for a good order with so much work each time."""

    def fill(kinds: Sequence[int], bed: int, work: Work) -> Filled:
        own = Work(min(steps, max(0, work.limit - work.spent)))
        filled = fullest(order, filler, kinds, bed, own)
        work.spend(own.spent)
        return filled

    return fill


def _improve(search: _Search, whole: int) -> None:
    """Let boxes change places until the area *whole* is covered or the work is over."""
    before, step = [search.area] * AGO, 0
    many = len(search.listed)
    while many > 1 and search.most < whole and not search.work.is_over:
        listed = list(search.listed)
        i, j = search.lots.below(many), search.lots.below(many)
        listed[i], listed[j] = listed[j], listed[i]
        search.work.spend(1 + many // 20)
        if listed[i] == listed[j]:
            continue
        area = search.fill(listed)
        if area >= search.area or area >= before[step % AGO]:
            search.listed, search.area = listed, area
        before[step % AGO] = search.area
        step += 1


def _places_left(kinds: Sequence[int], filled: Filled) -> tuple[int, ...]:
    """Return the places of the boxes that do not lie on the sheet, the last of each kind."""
    there: dict[int, int] = {}
    for box in filled.placed:
        there[box.kind] = there.get(box.kind, 0) + 1
    left = []
    for place, kind in enumerate(kinds):
        there[kind] = there.get(kind, 0) - 1
        if there[kind] < 0:
            left.append(place)
    return tuple(left)
