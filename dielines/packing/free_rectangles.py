"""A sheet filled box by box, each in one of the largest free rectangles that are left.

The free rectangles may overlap; together they are all that is free. A box goes into
the corner of one of them, and those that it cuts into are parted in up to four.

After Jylänki, "A thousand ways to pack the bin" (2010), from memory.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from enum import Enum

from dielines.packing.lying import Lying, places_left, runs_of, ways_to_lie
from dielines.packing.order import Bed, Filled, Filler, Order, Placed, Work

#: left, lower, right and upper edge
_Free = tuple[int, int, int, int]
_Rank = Callable[[_Free, Lying], tuple[int, int]]
_PLACING = 15  #: looks at a free rectangle that placing a box costs besides
_LOOKS = 8  #: such looks that are one step, about a microsecond


class Rule(Enum):
    """Which of the free rectangles that can hold a box gets it."""

    TIGHTEST = "tightest"  #: where the shorter of the two remainders is shortest
    LOWEST = "lowest"  #: where its upper edge comes to lie lowest


def _tightness(free: _Free, way: Lying) -> tuple[int, int]:
    wide, high = free[2] - free[0] - way.width, free[3] - free[1] - way.height
    return (wide, high) if wide < high else (high, wide)


def _lowness(free: _Free, way: Lying) -> tuple[int, int]:
    return (free[1] + way.height, free[0])


_RANKS: dict[Rule, _Rank] = {Rule.TIGHTEST: _tightness, Rule.LOWEST: _lowness}


def free_rectangle_filler(order: Order, rule: Rule = Rule.TIGHTEST) -> Filler:
    """Return a filler that puts the boxes of a list one by one where the *rule* has them."""
    ways, rank = ways_to_lie(order), _RANKS[rule]

    def fill(kinds: Sequence[int], bed: int, work: Work) -> Filled:
        return _filled(order.beds[bed], kinds, ways[bed], rank, work)

    return fill


def _filled(
    bed: Bed, kinds: Sequence[int], ways: Sequence[Sequence[Lying]], rank: _Rank, work: Work
) -> Filled:
    free: list[_Free] = [(0, 0, bed.width, bed.height)]
    placed, runs, looks = [], runs_of(kinds), len(kinds)
    for run in runs:
        while run.next <= run.last and free:
            looks += _PLACING + 3 * len(free)
            found = _place(free, ways[run.kind], rank)
            if found is None:
                break
            x, y, way = found
            placed.append(Placed(run.kind, x, y, way.quarters))
            free = _parted(free, (x, y, x + way.width, y + way.height))
            run.next += 1
    work.spend(1 + looks // _LOOKS)
    return Filled(tuple(placed), places_left(runs))


def _place(
    free: Sequence[_Free], ways: Sequence[Lying], rank: _Rank
) -> tuple[int, int, Lying] | None:
    """Return where the box goes and how it lies, the first place of several equal ones."""
    best, found = None, None
    for way in ways:
        for place in free:
            if way.width > place[2] - place[0] or way.height > place[3] - place[1]:
                continue
            value = rank(place, way)
            if best is None or value < best:
                best, found = value, (place[0], place[1], way)
    return found


def _parted(free: Sequence[_Free], box: _Free) -> list[_Free]:
    """Return what is free once the box lies there: the largest rectangles only."""
    left, low, right, high = box
    whole: list[_Free] = []
    parts: list[_Free] = []
    for a, b, c, d in free:
        if a >= right or c <= left or b >= high or d <= low:
            whole.append((a, b, c, d))
            continue
        if a < left:
            parts.append((a, b, left, d))
        if c > right:
            parts.append((right, b, c, d))
        if b < low:
            parts.append((a, b, c, low))
        if d > high:
            parts.append((a, high, c, d))
    return whole + _largest(parts, whole)


def _largest(parts: Sequence[_Free], whole: Sequence[_Free]) -> list[_Free]:
    """Return the parts that lie in no other free rectangle, the last of equal ones."""
    kept: list[_Free] = []
    for i, (a, b, c, d) in enumerate(parts):
        others = (*kept, *parts[i + 1 :], *whole)
        if not any(e <= a and f <= b and g >= c and h >= d for e, f, g, h in others):
            kept.append((a, b, c, d))
    return kept
