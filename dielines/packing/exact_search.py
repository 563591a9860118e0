"""Whether a handful of boxes fits one sheet, by trying every way that differs.

Boxes are put down one by one, each into a corner of the staircase that rises over
all before it: nothing is put under the stairs again. Any layout can be had so, for
in any layout the boxes can be taken away one by one to the upper right, and each can
first be pushed to the left and down as far as it goes (Martello, Pisinger and Vigo,
"The three-dimensional bin packing problem", 2000, for the plane). A pinwheel of four
is found as any other.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from enum import Enum
from typing import NamedTuple

from .lying import Lying
from .order import Placed, Work

MOST_BOXES = 100  #: of larger sets nothing is said; trying everything would come to no end
_STEPS_OF_A_STATE = 30  #: work of looking at one staircase, and for each corner, way and kind
_STEPS_OF_A_TRY = 6


class Verdict(Enum):
    """What came of a search."""

    FITS = "fits"
    CANNOT = "cannot"  #: proved
    OPEN = "open"  #: the search was ended before


class Searched(NamedTuple):
    """The verdict, and where the boxes lie if they fit."""

    verdict: Verdict
    placed: tuple[Placed, ...] = ()


#: where each step starts, and how high it is; the steps go down from left to right
_Stairs = tuple[tuple[int, int], ...]


@dataclass
class _Search:
    """What stays the same throughout, what has been seen to fail, and how much may be tried."""

    width: int
    height: int
    ways: Sequence[Sequence[Lying]]
    areas: Sequence[int]
    states: int  #: that may still be looked at; below 0 the search was ended
    work: Work
    failed: set[tuple[_Stairs, tuple[int, ...]]] = field(default_factory=set)
    placed: list[Placed] = field(default_factory=list)


def searched(
    size: tuple[int, int],
    ways: Sequence[Sequence[Lying]],
    counts: Sequence[int],
    states: int,
    work: Work,
) -> Searched:
    """Return whether so many boxes of each kind fit a sheet of *size*.

    *ways* in which each kind may lie; at most *states* staircases are looked at.
    """
    areas = [lying[0].width * lying[0].height if lying else 0 for lying in ways]
    if sum(counts) > MOST_BOXES:
        return Searched(Verdict.OPEN)
    search = _Search(*size, ways, areas, states, work)
    if _fits(search, ((0, 0),), tuple(counts)):
        return Searched(Verdict.FITS, tuple(search.placed))
    return Searched(Verdict.OPEN if search.states < 0 else Verdict.CANNOT)


def _fits(search: _Search, stairs: _Stairs, counts: tuple[int, ...]) -> bool:
    if not any(counts):
        return True
    search.states = -1 if search.work.is_over else search.states - 1
    search.work.spend(_STEPS_OF_A_STATE)
    if search.states < 0:
        return False
    settled = _settled(search, stairs, counts)
    if settled is None or (settled, counts) in search.failed:
        return False
    for kind, way, x, y in _moves(search, settled, counts):
        search.placed.append(Placed(kind, x, y, way.quarters))
        fewer = (*counts[:kind], counts[kind] - 1, *counts[kind + 1 :])
        if _fits(search, _raised(search, settled, (x, y), way), fewer):
            return True
        search.placed.pop()
        if search.states < 0:
            return False
    search.failed.add((settled, counts))
    return False


def _moves(
    search: _Search, stairs: _Stairs, counts: Sequence[int]
) -> Iterator[tuple[int, Lying, int, int]]:
    """Yield every way to put down the next box, the largest first."""
    kinds = sorted(
        (kind for kind, count in enumerate(counts) if count),
        key=lambda kind: (-search.areas[kind], kind),
    )
    for kind in kinds:
        for way in search.ways[kind]:
            for x, y in stairs:
                search.work.spend(_STEPS_OF_A_TRY)
                if x + way.width <= search.width and y + way.height <= search.height:
                    yield kind, way, x, y


def _settled(search: _Search, stairs: _Stairs, counts: Sequence[int]) -> _Stairs | None:
    """Return *stairs* with corners filled up that no box fits; None where some box fits none.

    A box that reaches below the step at its left, and over none further right, would
    fit the corner between.
    """
    left = [kind for kind, count in enumerate(counts) if count]
    homeless = set(left)
    kept: list[tuple[int, int]] = []
    for x, y in stairs:
        room, up = search.width - x, search.height - y
        here = [
            kind
            for kind in left
            if any(way.width <= room and way.height <= up for way in search.ways[kind])
        ]
        search.work.spend(_STEPS_OF_A_TRY * len(left))
        homeless.difference_update(here)
        if here:
            kept.append((x, y))
        elif not kept:
            kept.append((x, search.height))
    if homeless:
        return None
    settled = tuple(kept)
    needed = sum(count * area for count, area in zip(counts, search.areas, strict=True))
    return settled if needed <= _free(search, settled) else None


def _free(search: _Search, stairs: _Stairs) -> int:
    """Return the area that is not under the stairs."""
    ends = [x for x, _ in stairs[1:]] + [search.width]
    return sum((end - x) * (search.height - y) for (x, y), end in zip(stairs, ends, strict=True))


def _raised(search: _Search, stairs: _Stairs, corner: tuple[int, int], way: Lying) -> _Stairs:
    """Return the stairs over what lay there before and a box in one of the corners."""
    x, y = corner
    right, top = x + way.width, y + way.height
    higher = [step for step in stairs if step[0] < x and step[1] > top]
    start = next(step[0] for step in stairs if step[1] <= top)
    raised = [*higher, (start, top)]
    if right < search.width:
        under = [step for step in stairs if step[0] <= right]
        raised.append((right, under[-1][1]))
        raised += [step for step in stairs if step[0] > right]
    return tuple(raised)
