"""A fast first answer: sheet after sheet filled as well as a few fillers can, and repeated."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from fractions import Fraction

from ..errors import DoesNotHold
from .order import Bed, Filler, Leaf, Order, Pattern, Placed, Work
from .thinning import Run


class NoRoom(DoesNotHold):
    """Boxes that fit no sheet of which there are enough; *kinds* are their indices."""

    def __init__(self, kinds: tuple[int, ...]) -> None:
        """Keep the *kinds*."""
        super().__init__(f"No sheet is left for boxes {', '.join(map(str, kinds))}")
        self.kinds = kinds


def ways_alone(order: Order, kind: int, bed: int) -> tuple[int, ...]:
    """Return the quarter turns in which a box fits on a sheet of its own."""
    room = order.beds[bed]
    sizes = ((quarters, order.boxes[kind].lying(quarters)) for quarters in order.turns(kind, bed))
    return tuple(quarters for quarters, (w, h) in sizes if w <= room.width and h <= room.height)


def without_room(order: Order) -> tuple[int, ...]:
    """Return the kinds that are ordered and fit on no sheet that can be had without limit."""
    endless = [number for number, bed in enumerate(order.beds) if bed.at_most is None]
    return tuple(
        kind
        for kind, count in enumerate(order.counts)
        if count and not any(ways_alone(order, kind, bed) for bed in endless)
    )


def alone(order: Order, kind: int, bed: int) -> Pattern:
    """Return the sheet with one box of *kind* and nothing else; it must fit."""
    quarters = ways_alone(order, kind, bed)[0]
    return Pattern(bed, (Placed(kind, 0, 0, quarters),), Leaf(kind, quarters))


def listed(order: Order, bed: int, counts: Sequence[int], kinds: Iterable[int]) -> list[int]:
    """Return the boxes of *kinds*, in that order, no more of each than its area allows."""
    area = order.beds[bed].area
    return [
        kind
        for kind in kinds
        if ways_alone(order, kind, bed)
        for _ in range(min(counts[kind], area // order.boxes[kind].area))
    ]


def filled(order: Order, filler: Filler, bed: int, kinds: Sequence[int], work: Work) -> Pattern:
    """Return the sheet as *filler* fills it; one box alone where it would stay empty."""
    found = filler(kinds, bed, work)
    work.spend(len(kinds))
    if not found.placed and kinds:
        return alone(order, kinds[0], bed)
    return Pattern(bed, found.placed, found.cuts)


def area_of(order: Order, pattern: Pattern) -> int:
    """Return what the boxes cover, in square units."""
    return sum(order.boxes[box.kind].area for box in pattern.placed)


def sorted_kinds(order: Order) -> tuple[tuple[int, ...], ...]:
    """Return the kinds in the four orders that serve: by area, long side, short side, both."""
    boxes, kinds = order.boxes, range(len(order.boxes))
    keys = (
        lambda kind: (-boxes[kind].area, kind),
        lambda kind: (-max(boxes[kind][:2]), -boxes[kind].area, kind),
        lambda kind: (-min(boxes[kind][:2]), -boxes[kind].area, kind),
        lambda kind: (-boxes[kind].width - boxes[kind].height, kind),
    )
    return tuple(tuple(sorted(kinds, key=key)) for key in keys)


def first_runs(order: Order, fillers: Sequence[Filler], work: Work) -> list[Run]:
    """Return runs that place exactly what is ordered; raises NoRoom where that cannot be.

    It always comes to its end, however little work is left.
    """
    lacking = without_room(order)
    if lacking:
        raise NoRoom(lacking)
    counts, there = list(order.counts), [bed.at_most for bed in order.beds]
    orders = sorted_kinds(order)
    runs: list[Run] = []
    while any(counts):
        pattern = _next_sheet(order, fillers, orders, counts, there, work)
        times = _times(pattern, counts, there)
        for kind, count in enumerate(pattern.counts(len(counts))):
            counts[kind] -= count * times
        _use(there, pattern.bed, times)
        runs.append((pattern, times))
    return runs


def _next_sheet(
    order: Order,
    fillers: Sequence[Filler],
    orders: Sequence[Sequence[int]],
    counts: Sequence[int],
    there: Sequence[int | None],
    work: Work,
) -> Pattern:
    """Return the sheet that uses its price best; one that holds all the rest goes first."""
    best, value = None, (False, Fraction(-1))
    rest = sum(count * box.area for count, box in zip(counts, order.boxes, strict=True))
    for pattern in _sheets(order, fillers, orders, counts, there, work):
        area = area_of(order, pattern)
        worth = (area == rest, _rate(order.beds[pattern.bed], area, area == rest))
        if worth > value:
            best, value = pattern, worth
    if best is None:
        raise NoRoom(tuple(kind for kind, count in enumerate(counts) if count))
    return best


def _rate(bed: Bed, area: int, holds_all: bool) -> Fraction:
    if holds_all:
        return Fraction(1, 1 + bed.price)
    return Fraction(area, bed.price) if bed.price else Fraction(area * bed.area)


def _sheets(
    order: Order,
    fillers: Sequence[Filler],
    orders: Sequence[Sequence[int]],
    counts: Sequence[int],
    there: Sequence[int | None],
    work: Work,
) -> Iterator[Pattern]:
    for bed, left in enumerate(there):
        if left == 0:
            continue
        for kinds in orders:
            boxes = listed(order, bed, counts, kinds)
            for filler in fillers if boxes else ():
                yield filled(order, filler, bed, boxes, work)
                if work.is_over:
                    break


def _times(pattern: Pattern, counts: Sequence[int], there: Sequence[int | None]) -> int:
    """Return how often a sheet can be cut before a kind or the sheets run out."""
    has = pattern.counts(len(counts))
    most = min(left // count for left, count in zip(counts, has, strict=True) if count)
    left = there[pattern.bed]
    return most if left is None else min(most, left)


def _use(there: list[int | None], bed: int, times: int) -> None:
    left = there[bed]
    there[bed] = None if left is None else left - times
