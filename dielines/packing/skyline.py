"""A sheet filled from below: the lowest gap first, with the box that fits it best.

What lies on the sheet is known by its skyline only, the heights of its upper edge
from left to right. In the lowest gap of it goes the box that meets most of what
stands around: the whole width of the gap, the height of a wall beside it. Ties go
by the order of the list, which is what a search varies.

After the scoring rule of Leung, Zhang and Sim, "A two-stage intelligent search
algorithm for the two-dimensional strip packing problem" (2011), from memory.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from dielines.packing.lying import Lying, Run, places_left, runs_of, ways_to_lie
from dielines.packing.order import Bed, Filled, Filler, Order, Placed, Work

#: how well a box sits in a gap; a box that leaves no part of the gap beside it is worth most
WHOLE_AND_HIGH, WHOLE_AND_LOW, WHOLE, BESIDE_HIGH, BESIDE_LOW, LOOSE = 6, 5, 4, 3, 2, 1
_PLACING = 12  #: looks at a box that placing one costs besides
_LOOKS = 8  #: looks at a box that are one step, about a microsecond


class _Gap(NamedTuple):
    """A level stretch of the skyline, and how high the walls stand over it."""

    stretch: int
    x: int
    y: int
    width: int
    left: int
    right: int


class _Skyline:
    """The upper edge of what lies on a sheet: where each stretch starts, and how high it is."""

    __slots__ = ("bed", "starts", "tops")

    def __init__(self, bed: Bed) -> None:
        self.bed = bed
        self.starts = [0]
        self.tops = [0]

    def lowest(self) -> _Gap:
        """Return the lowest gap, the leftmost of several."""
        starts, tops = self.starts, self.tops
        y = min(tops)
        i = tops.index(y)
        end = starts[i + 1] if i + 1 < len(starts) else self.bed.width
        left = (tops[i - 1] if i else self.bed.height) - y
        right = (tops[i + 1] if i + 1 < len(tops) else self.bed.height) - y
        return _Gap(i, starts[i], y, end - starts[i], left, right)

    def cover(self, gap: _Gap) -> None:
        """Raise a gap that nothing fits to the lower wall beside it."""
        self.tops[gap.stretch] = gap.y + min(gap.left, gap.right)
        self._join(gap.stretch)

    def lay(self, gap: _Gap, x: int, width: int, height: int) -> None:
        """Raise the part of the gap from *x* on, so *width*, by *height*."""
        i, top = gap.stretch, gap.y + height
        if width == gap.width:
            self.tops[i] = top
        elif x == gap.x:
            self.starts.insert(i + 1, x + width)
            self.tops.insert(i, top)
        else:
            i += 1
            self.starts.insert(i, x)
            self.tops.insert(i, top)
        self._join(i)

    def _join(self, i: int) -> None:
        """Make stretch *i* one with its neighbours of the same height."""
        starts, tops = self.starts, self.tops
        if i + 1 < len(tops) and tops[i + 1] == tops[i]:
            del starts[i + 1], tops[i + 1]
        if i and tops[i - 1] == tops[i]:
            del starts[i], tops[i]


#: a run of boxes in one of the ways in which they may lie: width, height, run, quarter turns
_Choice = tuple[int, int, Run, int]


def skyline_filler(order: Order) -> Filler:
    """Return a filler that always fills the lowest gap, with the box that fits it best."""
    ways = ways_to_lie(order)

    def fill(kinds: Sequence[int], bed: int, work: Work) -> Filled:
        return _filled(order.beds[bed], runs_of(kinds), ways[bed], work)

    return fill


def _filled(bed: Bed, runs: list[Run], ways: Sequence[Sequence[Lying]], work: Work) -> Filled:
    skyline, placed, looks = _Skyline(bed), [], len(runs)
    choices: list[_Choice] = [
        (wide, high, run, quarters) for run in runs for wide, high, quarters in ways[run.kind]
    ]
    while choices:
        gap = skyline.lowest()
        looks += _PLACING + len(choices)
        if gap.y >= bed.height:
            break
        room = bed.height - gap.y
        fitting = [c for c in choices if c[0] <= gap.width and c[1] <= room]
        if not fitting:
            skyline.cover(gap)
            continue
        wide, high, run, quarters = best = _best(fitting, gap)
        x = _place_in(gap, best)
        placed.append(Placed(run.kind, x, gap.y, quarters))
        skyline.lay(gap, x, wide, high)
        run.next += 1
        if run.next > run.last:
            choices = [choice for choice in choices if choice[2] is not run]
    work.spend(1 + looks // _LOOKS)
    return Filled(tuple(placed), places_left(runs))


def _best(choices: Sequence[_Choice], gap: _Gap) -> _Choice:
    """Return the choice that sits best in the gap, the first of several."""
    high_wall, low_wall = max(gap.left, gap.right), min(gap.left, gap.right)
    most, best = 0, choices[0]
    for choice in choices:
        whole, height = choice[0] == gap.width, choice[1]
        if height == high_wall:
            score = WHOLE_AND_HIGH if whole else BESIDE_HIGH
        elif height == low_wall:
            score = WHOLE_AND_LOW if whole else BESIDE_LOW
        else:
            score = WHOLE if whole else LOOSE
        if score > most:
            most, best = score, choice
            if score == WHOLE_AND_HIGH:
                break
    return best


def _place_in(gap: _Gap, choice: _Choice) -> int:
    """Return the x at which a box goes: at the wall that it meets, else at the higher one."""
    at_left, at_right = gap.x, gap.x + gap.width - choice[0]
    height = choice[1]
    if (height == gap.left) != (height == gap.right):
        return at_left if height == gap.left else at_right
    return at_left if gap.left >= gap.right else at_right
