"""The order of layers, from the side from which each panel lands while the steps are played.

After each step every two panels that have come to share a plane are looked at
just before the end of the step: where one lands upon the other all of it comes
from one side. Panels that did not move against each other keep their order.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from enum import Enum
from itertools import pairwise

from ..part import FoldKey, Step
from ..paths import Number
from .layering import Clash, ClashKind, Pair
from .meeting import IN_PLANE, Flat, Motion, Sheet, between, level_height, moved_pairs

Angles = Mapping[FoldKey, Number]

#: How far before the end of a step to look, as a share of it. Any from 1e-5 to 0.2 gives the same.
BEFORE_LANDING = 1e-3
#: Points lower than this share of the highest one count as lying in the plane: a hinge that
#: lands together with its panel dips below it, by a second-order amount.
DIPS = 0.02


class Arrival(Enum):
    """What has become of two panels that moved against each other in a step."""

    LANDED = "landed"  #: one lies over the other
    THROUGH = "through"  #: one lands upon the other from both sides
    UNCLEAR = "unclear"  #: they slid upon each other in their plane
    PARTED = "parted"  #: nothing of one lies over the other


@dataclass(frozen=True, slots=True)
class Move:
    """Two panels after a step; *side* is where the second lies as seen by the first."""

    pair: Pair
    how: Arrival
    side: int = 0
    is_turned_over: bool = False  #: whether their faces look opposite ways


@dataclass
class Landing:
    """What the steps played so far have brought about."""

    sides: dict[Pair, int] = field(default_factory=dict)
    clashes: list[Clash] = field(default_factory=list)
    unclear: set[Pair] = field(default_factory=set)

    def after(self, moves: Sequence[Move], step: int) -> Landing:
        """Return what is known after one more step; this one stays as it is."""
        known = Landing(dict(self.sides), list(self.clashes), set(self.unclear))
        for move in moves:
            _note(known, move, step)
        return known


@dataclass(frozen=True)
class StepInMotion:
    """One step of folding: how panels that move in it lie to each other.

    A motion takes the drawing of the second panel of a pair into that of the first.
    """

    moved: Mapping[Pair, Motion]  #: after the step
    near: Mapping[str, Motion]  #: where each panel is just before the end of the step


def arrivals(sheet: Sheet, motions: Iterable[StepInMotion], steps: Sequence[Step] = ()) -> Landing:
    """Return the sides on which panels come to lie once all *motions* are made.

    *sides* has both (a, b) and (b, a) for panels that overlap in one plane or in
    parallel planes. *steps* say which panels are tucked under others.
    """
    found = Landing()
    for number, motion in enumerate(motions, 1):
        tucked = steps[number - 1].under if number <= len(steps) else ()
        found = found.after(list(moves_of(sheet, motion, tucked)), number)
    return found


def steps_in_motion(sheet: Sheet, reached: Sequence[Angles]) -> Iterator[StepInMotion]:
    """Yield the steps between the angles *reached*, flat first."""
    motions = [sheet.motions(angles) for angles in reached]
    for (start, end), (before, after) in zip(pairwise(reached), pairwise(motions), strict=True):
        near = sheet.motions(_shortly_before(start, end))
        yield StepInMotion(dict(moved_pairs(sheet, start, end, (before, near, after))), near)


def start_and_end(sheet: Sheet, start: Angles, end: Angles) -> StepInMotion:
    """Return the step from the angles *start* to *end*."""
    return next(steps_in_motion(sheet, (start, end)))


def moves_of(sheet: Sheet, motions: StepInMotion, tucked: Sequence[Pair] = ()) -> Iterator[Move]:
    """Yield what a step does to panels; those *tucked* go under."""
    for pair, motion in motions.moved.items():
        move = _move(sheet, pair, motion, motions.near)
        if move.side and (pair in tucked or pair[::-1] in tucked):
            move = Move(pair, move.how, -move.side, move.is_turned_over)
        yield move


def _shortly_before(start: Angles, end: Angles) -> dict[FoldKey, float]:
    share = 1 - BEFORE_LANDING
    return {key: float(a) + (float(end[key]) - float(a)) * share for key, a in start.items()}


def _move(sheet: Sheet, pair: Pair, motion: Motion, near: Mapping[str, Motion]) -> Move:
    """Return what has become of *pair*; *motion* takes the second's drawing into the first's."""
    height = level_height(motion)
    shared = () if height is None else sheet.overlap(pair, motion)
    if height is None or not shared:
        return Move(pair, Arrival.PARTED)
    is_turned_over = motion[8] < 0
    if abs(height) > IN_PLANE:
        return Move(pair, Arrival.LANDED, 1 if height > 0 else -1, is_turned_over)
    shortly_before = between(near[pair[0]], near[pair[1]])
    side = _side_of(list(_heights_before(shared, motion, shortly_before)))
    if side is None:
        return Move(pair, Arrival.THROUGH)
    return Move(pair, Arrival.LANDED if side else Arrival.UNCLEAR, side, is_turned_over)


def _heights_before(shared: Sequence[Flat], after: Motion, near: Motion) -> Iterator[float]:
    """Yield how high the corners of what is shared are, just before they land."""
    for x, y in shared:
        own_x, own_y = after.back(x, y)
        yield near.at(own_x, own_y)[2]


def _side_of(heights: Sequence[float]) -> int | None:
    """Return the side from which points land: 0 where they never rose, None from both."""
    highest = max((abs(height) for height in heights), default=0.0)
    if highest <= IN_PLANE * BEFORE_LANDING:
        return 0
    sides = {1 if height > 0 else -1 for height in heights if abs(height) > DIPS * highest}
    return sides.pop() if len(sides) == 1 else None


def _note(known: Landing, move: Move, step: int) -> None:
    """Replace what was known of two panels by what a step has made of them."""
    a, b = move.pair
    known.sides.pop((a, b), None)
    known.sides.pop((b, a), None)
    known.unclear.discard(move.pair)
    if move.how is Arrival.LANDED:
        known.sides[a, b] = move.side
        known.sides[b, a] = move.side if move.is_turned_over else -move.side
    elif move.how is Arrival.THROUGH:
        known.clashes.append(Clash(ClashKind.THROUGH, a, b, step))
    elif move.how is Arrival.UNCLEAR:
        known.unclear.add(move.pair)
