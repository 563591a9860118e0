"""The most valuable sheet of outlines, found by changing one that is good a little each time.

An order of parts is known by its head, the parts that found room; what else there is
follows it, dearest for its area first. A change is kept when it is not worse than
what was held a while ago (late acceptance: Burke and Bykov, "The late acceptance
hill-climbing heuristic", 2017, from memory), so that the search leaves a dead end.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from ..lots import Lots
from ..order import Filled
from .filler import Wish, filled
from .question import CORNERS, Question, orders, sorted_kinds

CHANGES = 600  #: at most
BEGINNINGS = 12  #: orders of which the best is changed
MEMORY = 20  #: changes ago
SHARE = 8  #: one part in so many of the work that is left is taken at most


class _Held(NamedTuple):
    """What a head came to; the parts placed are the new head."""

    rank: tuple[int, int]  #: worth, then area
    head: list[Wish]
    filled: Filled


def exchanged(question: Question) -> Iterator[Filled]:
    """Yield what is held after each change that is kept."""
    if not question.copies:
        return
    until = question.work.spent + max(0, question.work.limit - question.work.spent) // SHARE
    beginnings = (wishes for wishes, _ in zip(orders(question), range(BEGINNINGS), strict=False))
    held = max((_held(question, wishes) for wishes in beginnings), key=_rank)
    yield held.filled
    ago, lots, search = [held.rank] * MEMORY, Lots(CHANGES), _Search(question)
    for number in range(CHANGES):
        if question.work.spent >= until:
            return
        other = _held(question, search.followed(search.changed(held.head, lots)))
        if other.rank >= min(held.rank, ago[number % MEMORY]):
            held = other
            yield held.filled
        ago[number % MEMORY] = held.rank


def _rank(held: _Held) -> tuple[int, int]:
    return held.rank


def _held(question: Question, wishes: Sequence[Wish]) -> _Held:
    found = filled(question.raster, wishes, question.work)
    area = sum(question.areas[box.kind] for box in found.placed)
    outside = set(found.left)
    head = [wish for place, wish in enumerate(wishes) if place not in outside]
    return _Held((question.value(found), area), head, found)


class _Search:
    """The kinds that may come onto a sheet, and how many of each at most."""

    def __init__(self, question: Question) -> None:
        self.most = [0] * len(question.areas)
        for kind in question.copies:
            self.most[kind] += 1
        self.kinds = sorted_kinds(question)

    def followed(self, head: Sequence[Wish]) -> list[Wish]:
        """Return a head, no more of a kind than may be, and what else there is after it."""
        left = list(self.most)
        wishes = []
        for wish in head:
            if left[wish.kind]:
                left[wish.kind] -= 1
                wishes.append(wish)
        return wishes + [Wish(kind) for kind in self.kinds for _ in range(left[kind])]

    def changed(self, head: Sequence[Wish], lots: Lots) -> list[Wish]:
        """Return the head with one part elsewhere, other, more or less."""
        wishes, change = list(head), lots.below(6)
        at, other = lots.below(len(wishes)), lots.below(len(wishes))
        corner = CORNERS[lots.below(len(CORNERS))]
        kind = self.kinds[lots.below(len(self.kinds))]
        if change == 0:
            wishes[at] = wishes[at]._replace(corner=corner)
        elif change == 1:
            wishes[at], wishes[other] = wishes[other], wishes[at]
        elif change == 2:
            wishes.insert(other, wishes.pop(at)._replace(corner=corner))
        elif change == 3:
            wishes[at] = Wish(kind, corner)
        elif change == 4:
            wishes.insert(at, Wish(kind, corner))
        else:
            wishes.pop(at)
        return wishes
