"""Fewer sheets: one is taken away, and its boxes find room on the others.

The heaviest box without a sheet goes onto one that holds it beside what is there. Where
none does, it takes the place of boxes that weigh less together; they then have no sheet.
A box weighs its area, and more each time that it found no room, so that after a while
others make way for it. When that comes to nothing, another sheet is taken away.

After Wei, Oon, Zhu and Lim, "A goal-driven approach to the 2D bin packing and variable-
sized bin packing problems" (2013); growing weights as in Nagata and Braysy, "A powerful
route minimization heuristic for the vehicle routing problem with time windows" (2009);
both from memory. It works with any fillers, whatever they take for a legal layout.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from itertools import combinations
from typing import NamedTuple

from .greedy import as_pattern, beds_left, price_of
from .lots import Lots
from .order import Filled, Filler, Order, Pattern, Work
from .trials import Kinds, Trials

#: common practice, tuned on published problems
PATIENCE = 200  #: boxes moved without less being left over, before another sheet is taken away
START, GROWTH = 16, 2  #: how often a box counts its area, and how much more for each failure
FEW = 6  #: boxes on a sheet of which any one or two may be swapped
MOST_SWAPS = 200  #: tried for a box, the lightest first
NOISE = 4  #: sixteenths by which the weight of a swap is changed by lot, below it


class _Sheet(NamedTuple):
    kinds: Kinds
    pattern: Pattern

    @property
    def bed(self) -> int:
        return self.pattern.bed


class _Swap(NamedTuple):
    """Boxes of a sheet that could make way; *rank* is less for a better one."""

    rank: int
    number: int
    out: Kinds
    filled: Filled | None  #: None: yet to be tried


@dataclass
class _Search:
    """Sheets, and the boxes that have none."""

    order: Order
    trials: Trials
    work: Work
    lots: Lots
    sheets: list[_Sheet] = field(default_factory=list)
    pool: list[int] = field(default_factory=list)
    counts_as: list[int] = field(default_factory=list)

    def weight(self, kind: int) -> int:
        """Return how much it matters that a box has a sheet."""
        return self.trials.areas[kind] * self.counts_as[kind]

    def room(self, sheet: _Sheet) -> int:
        """Return the area that is free on a sheet."""
        return self.order.beds[sheet.bed].area - self.trials.area(sheet.kinds)


def improved(
    order: Order,
    fillers: Sequence[Filler],
    patterns: Sequence[Pattern],
    bound: int,
    work: Work,
    patient: Filler | None = None,
) -> tuple[Pattern, ...]:
    """Return sheets for the same boxes as *patterns* that cost no more, found with *fillers*.

    *patient* is a slow filler that is asked of sheets with many boxes, where the others fail.
    It ends at the price *bound*, or when the work is over.
    """
    search = _Search(order, Trials(order, fillers, work, patient), work, Lots(1))
    best, tries = _on_cheaper_beds(search, patterns), 0
    while price_of(order, best) > bound and not work.is_over:
        gone, instead = _taken_away(search, best, tries)
        found = _without(search, best, gone, instead)
        tries = 0 if found is not None else tries + 1
        best = best if found is None else _on_cheaper_beds(search, found)
    return tuple(best)


def kinds_of(pattern: Pattern) -> Kinds:
    """Return the kinds of the boxes on it, ascending."""
    return tuple(sorted(box.kind for box in pattern.placed))


def _on_cheaper_beds(search: _Search, patterns: Sequence[Pattern]) -> Sequence[Pattern]:
    """Return each pattern on the cheapest sheet that holds its boxes and is still there."""
    beds, found = search.order.beds, list(patterns)
    if len(beds) == 1:
        return found
    for i, pattern in enumerate(patterns):
        cheaper = _cheaper_beds(search.order, found, i)
        for bed in sorted(cheaper, key=lambda bed: (beds[bed].price, bed)):
            filled = None if search.work.is_over else search.trials.whole(bed, kinds_of(pattern))
            if filled is not None:
                found[i] = as_pattern(bed, filled)
                break
    return found


def _cheaper_beds(order: Order, patterns: Sequence[Pattern], number: int) -> list[int]:
    """Return the kinds of sheet that are left and cost less than that of one pattern."""
    others = [*patterns[:number], *patterns[number + 1 :]]
    price = order.beds[patterns[number].bed].price
    return [bed for bed in beds_left(order, others) if order.beds[bed].price < price]


def _taken_away(search: _Search, patterns: Sequence[Pattern], tries: int) -> tuple[int, int | None]:
    """Return which sheet to do without, and which cheaper one is had instead, if any.

    The emptiest first; then by lot, among those that cost something.
    """
    order, trials = search.order, search.trials
    dear = [i for i, pattern in enumerate(patterns) if order.beds[pattern.bed].price]
    dear.sort(key=lambda i: (trials.area(kinds_of(patterns[i])), i))
    search.work.spend(1 + len(patterns))
    if not tries:
        return dear[0], None
    gone = dear[search.lots.below(len(dear))]
    instead = [None, *_cheaper_beds(order, patterns, gone)]
    return gone, instead[search.lots.below(len(instead))]


def _without(
    search: _Search, patterns: Sequence[Pattern], gone: int, instead: int | None
) -> Sequence[Pattern] | None:
    """Return sheets for all boxes without that one; None where some found no room."""
    others = [pattern for i, pattern in enumerate(patterns) if i != gone]
    if instead is not None:
        others.append(Pattern(instead, ()))
    search.sheets = [_Sheet(kinds_of(pattern), pattern) for pattern in others]
    search.pool = list(kinds_of(patterns[gone]))
    search.counts_as = [START] * len(search.order.boxes)
    least, since = search.trials.area(tuple(search.pool)), 0
    while search.pool and since < PATIENCE and not search.work.is_over:
        _give_place(search)
        left, since = search.trials.area(tuple(search.pool)), since + 1
        least, since = (left, 0) if left < least else (least, since)
    return None if search.pool else [sheet.pattern for sheet in search.sheets if sheet.kinds]


def _give_place(search: _Search) -> None:
    """Give the heaviest box without a sheet its place; or let it weigh more where there is none."""
    kind = max(search.pool, key=lambda kind: (search.weight(kind), -kind))
    search.pool.remove(kind)
    if _inserted(search, kind):
        return
    search.counts_as[kind] += GROWTH
    if not _swapped(search, kind):
        search.pool.append(kind)


def _inserted(search: _Search, kind: int) -> bool:
    """Put a box beside what lies on a sheet, the fullest that holds it."""
    search.work.spend(1 + len(search.sheets) // 4)
    area = search.trials.areas[kind]
    rooms = [(search.room(sheet), number) for number, sheet in enumerate(search.sheets)]
    for room, number in sorted(rooms):
        if room >= area and _refilled(search, kind, _Swap(0, number, (), None)):
            return True
    return False


def _swapped(search: _Search, kind: int) -> bool:
    """Put a box in the place of others that weigh less, which then have no sheet."""
    limit = search.weight(kind)
    swaps = [
        swap._replace(rank=swap.rank * (16 + search.lots.below(NOISE)))
        for number in range(len(search.sheets))
        for swap in _swaps(search, kind, number)
        if swap.rank < limit
    ]
    search.work.spend(1 + len(swaps))
    swaps.sort(key=lambda swap: swap[:3])
    return any(_refilled(search, kind, swap) for swap in swaps[:MOST_SWAPS])


def _refilled(search: _Search, kind: int, swap: _Swap) -> bool:
    """Put a box onto a sheet in the place of those that make way; False where it does not fit."""
    sheet = search.sheets[swap.number]
    kinds = list(sheet.kinds)
    for other in swap.out:
        kinds.remove(other)
    kinds = sorted([*kinds, kind])
    filled = swap.filled or search.trials.whole(sheet.bed, tuple(kinds))
    if filled is None:
        return False
    search.sheets[swap.number] = _Sheet(tuple(kinds), as_pattern(sheet.bed, filled))
    search.pool += swap.out
    return True


def _swaps(search: _Search, kind: int, number: int) -> Iterator[_Swap]:
    """Yield what may make way on a sheet; rank is what it weighs."""
    sheet, areas = search.sheets[number], search.trials.areas
    lacking = areas[kind] - search.room(sheet)
    for size in (1, 2) if len(sheet.kinds) <= FEW else (1,):
        for out in combinations(sheet.kinds, size):
            if sum(areas[other] for other in out) >= lacking:
                yield _Swap(sum(search.weight(other) for other in out), number, out, None)
    search.work.spend(1 + len(sheet.kinds) // 2)
    if len(sheet.kinds) > FEW:
        for left in search.trials.left_by(sheet.bed, sheet.kinds, kind):
            weight = sum(search.weight(other) for other in left.kinds)
            yield _Swap(weight, number, left.kinds, left.filled)
