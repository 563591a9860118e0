"""A first answer in no time: sheet after sheet, each filled with what is left.

It is tried with the boxes in several orders and with every filler; the cheapest
answer is kept.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from enum import Enum

from dielines.packing.lying import NoRoom
from dielines.packing.order import Box, Filled, Filler, Order, Pattern, Work

_LISTED = 20  #: boxes listed in one step, about a microsecond


class Largest(Enum):
    """By what boxes are put in order, the largest first."""

    AREA = "area"
    LONG_SIDE = "long side"
    SHORT_SIDE = "short side"
    BOTH_SIDES = "both sides"


_SIZES: dict[Largest, Callable[[Box], tuple[int, int]]] = {
    Largest.AREA: lambda box: (box.area, max(box.width, box.height)),
    Largest.LONG_SIDE: lambda box: (max(box.width, box.height), box.area),
    Largest.SHORT_SIDE: lambda box: (min(box.width, box.height), box.area),
    Largest.BOTH_SIDES: lambda box: (box.width + box.height, box.area),
}


def largest_first(order: Order, by: Largest) -> tuple[int, ...]:
    """Return all kinds of box, the largest first; equal ones in the order of their numbers."""
    size = _SIZES[by]

    def rank(kind: int) -> tuple[int, int, int]:
        first, second = size(order.boxes[kind])
        return (-first, -second, kind)

    return tuple(sorted(range(len(order.boxes)), key=rank))


def as_pattern(bed: int, filled: Filled) -> Pattern:
    """Return what was filled as a pattern."""
    return Pattern(bed, filled.placed, filled.cuts)


def price_of(order: Order, patterns: Sequence[Pattern]) -> int:
    """Return the price of the sheets of all *patterns*."""
    return sum(order.beds[pattern.bed].price for pattern in patterns)


def covered(order: Order, pattern: Pattern) -> int:
    """Return the area of the boxes on it."""
    return sum(order.boxes[box.kind].area for box in pattern.placed)


def beds_left(order: Order, patterns: Sequence[Pattern]) -> tuple[int, ...]:
    """Return the kinds of sheet of which there is one left besides those of *patterns*."""
    used = [0] * len(order.beds)
    for pattern in patterns:
        used[pattern.bed] += 1
    return tuple(
        number
        for number, bed in enumerate(order.beds)
        if bed.at_most is None or used[number] < bed.at_most
    )


def greedy_patterns(
    order: Order, fillers: Sequence[Filler], kinds: Sequence[int], work: Work, bound: int = 0
) -> tuple[Pattern, ...]:
    """Return sheets, one by one, that hold the boxes of the *kinds* listed, each once.

    The first answer is finished whatever the work; the others are tried while some of
    it is left and the price is above the *bound*. Raises NoRoom where the sheets that can be had do not hold the boxes.
    """
    best: tuple[tuple[int, int, int], tuple[Pattern, ...]] | None = None
    misfits: NoRoom | None = None
    for filler in fillers:
        for by in Largest:
            if best is not None and (work.is_over or best[0][0] <= bound):
                break
            try:
                found = _answer(order, filler, largest_first(order, by), kinds, work)
            except NoRoom as none:
                misfits = none
                continue
            rank = _rank(order, found)
            if best is None or rank < best[0]:
                best = rank, found
    if best is None:
        raise misfits or NoRoom(kinds)
    return best[1]


def _rank(order: Order, patterns: Sequence[Pattern]) -> tuple[int, int, int]:
    """Return what is less for a better answer: price, sheets, and what the emptiest holds."""
    least = min((covered(order, pattern) for pattern in patterns), default=0)
    return (price_of(order, patterns), len(patterns), least)


@dataclass
class _Rest:
    """How many boxes of each kind are still to be placed, in the order in which they shall be."""

    order: Order
    ranked: tuple[int, ...]
    counts: list[int]

    def listed(self, bed: int) -> list[int]:
        """Return the boxes left, of each kind as many as the area of the sheet can hold."""
        area = self.order.beds[bed].area
        return [
            kind
            for kind in self.ranked
            for _ in range(min(self.counts[kind], area // self.order.boxes[kind].area))
        ]

    def times(self, pattern: Pattern) -> int:
        """Return how often a pattern can be cut from what is left."""
        needed = pattern.counts(len(self.counts))
        return min(left // n for left, n in zip(self.counts, needed, strict=True) if n)

    def take(self, pattern: Pattern) -> None:
        """Count the boxes on a sheet as placed."""
        for box in pattern.placed:
            self.counts[box.kind] -= 1

    def is_held_by(self, pattern: Pattern) -> bool:
        """Whether the sheet holds all that is left."""
        return len(pattern.placed) == sum(self.counts)


def _answer(
    order: Order, filler: Filler, ranked: tuple[int, ...], kinds: Sequence[int], work: Work
) -> tuple[Pattern, ...]:
    counts = [0] * len(order.boxes)
    for kind in kinds:
        counts[kind] += 1
    rest, patterns = _Rest(order, ranked, counts), list[Pattern]()
    while any(rest.counts):
        pattern = _next_sheet(rest, filler, beds_left(order, patterns), work)
        if pattern is None:
            raise NoRoom(kind for kind, count in enumerate(rest.counts) if count)
        for _ in range(_repeats(rest, pattern, patterns)):
            rest.take(pattern)
            patterns.append(pattern)
    return tuple(patterns)


def _repeats(rest: _Rest, pattern: Pattern, before: Sequence[Pattern]) -> int:
    """Return how often to cut a sheet in a row: as often as boxes and sheets are left for."""
    at_most = rest.order.beds[pattern.bed].at_most
    times = rest.times(pattern)
    if at_most is None:
        return times
    return min(times, at_most - sum(other.bed == pattern.bed for other in before))


def _next_sheet(rest: _Rest, filler: Filler, beds: Sequence[int], work: Work) -> Pattern | None:
    """Return the sheet that holds all that is left for least, or else most for its price."""
    patterns = [pattern for pattern in _filled_sheets(rest, filler, beds, work) if pattern.placed]
    order = rest.order
    whole = [pattern for pattern in patterns if rest.is_held_by(pattern)]
    if whole:
        return min(whole, key=lambda pattern: (order.beds[pattern.bed].price, pattern.bed))
    return max(patterns, key=lambda pattern: _for_its_price(order, pattern), default=None)


def _for_its_price(order: Order, pattern: Pattern) -> tuple[float, int]:
    """Return the area that is had for the money; a sheet that costs nothing comes first."""
    price = order.beds[pattern.bed].price
    return (covered(order, pattern) / price if price else float("inf"), -pattern.bed)


def _filled_sheets(
    rest: _Rest, filler: Filler, beds: Sequence[int], work: Work
) -> Iterator[Pattern]:
    for bed in beds:
        listed = rest.listed(bed)
        work.spend(1 + len(listed) // _LISTED)
        yield as_pattern(bed, filler(listed, bed, work))
