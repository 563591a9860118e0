"""The order of layers of a part whose template declares no steps: every sequence is tried."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from itertools import permutations

from ..part import Line, Part, Step
from .layering import Layering, Outcome, Pair

#: Sequences of more units than this (720 of six) are not tried: the steps must be declared.
MOST_UNITS = 6
NEAR = 1e-6  #: mm

Play = Callable[[Part], tuple[Layering, bool]]
"""What playing the steps of a part brings: its layers, and whether its loops close."""


def needs_sequences(part: Part) -> bool:
    """Return whether nothing says in which order the folds of *part* are made."""
    return not part.steps and len(units_of(part)) > 1


def layering_of_sequences(part: Part, play: Play) -> Layering:
    """Return what all sequences of folding *part* have in common.

    One order, however the folds are made; ambiguous where sequences that work
    differ; impossible where none works, with the clashes of the first.
    """
    units = units_of(part)
    if len(units) > MOST_UNITS:
        return play(part)[0]
    played = [play(replace(part, steps=tuple(order))) for order in permutations(units)]
    good = [layers for layers, closes in played if closes and not layers.clashes]
    if not good:
        return replace(played[0][0], outcome=Outcome.IMPOSSIBLE)
    differing = tuple(sorted(_differing(good)))
    if not differing:
        return good[0]
    sides = {pair: side for pair, side in good[0].sides.items() if not _is_among(pair, differing)}
    return replace(good[0], outcome=Outcome.AMBIGUOUS, sides=sides, ambiguous=differing)


def _differing(orders: Sequence[Layering]) -> Iterator[Pair]:
    """Yield the pairs, each once, that do not lie alike in all *orders*."""
    first = orders[0]
    unclear = {pair for order in orders for pair in order.ambiguous}
    for pair, side in first.sides.items():
        is_same = all(order.sides.get(pair) == side for order in orders)
        if pair[0] < pair[1] and (not is_same or _is_among(pair, tuple(unclear))):
            yield pair


def _is_among(pair: Pair, pairs: Sequence[Pair]) -> bool:
    return pair in pairs or pair[::-1] in pairs


def units_of(part: Part) -> list[Step]:
    """Return what hands fold at once, a step each: folds on one line, and both folds of a wall.

    A wall is a panel between two parallel folds of 90 degrees that give the same way.
    """
    groups: list[list[Line]] = []
    for line in part.folds:
        if not line.angle_deg or not line.is_straight:
            continue
        joined = [group for group in groups if any(_is_one_unit(line, other) for other in group)]
        groups = [group for group in groups if group not in joined]
        groups.append([*(other for group in joined for other in group), line])
    return [Step(tuple((line.key, line.angle_deg) for line in group)) for group in groups]


def _is_one_unit(line: Line, other: Line) -> bool:
    if line.angle_deg != other.angle_deg:
        return False
    (a, b, c), (d, e, f) = _axis(line), _axis(other)
    if abs(a * e - b * d) > NEAR:
        return False
    is_one_line = abs(c - f) <= NEAR
    is_wall = line.angle_deg in (90, -90) and bool(line.key.panels() & other.key.panels())
    return is_one_line or is_wall


def _axis(line: Line) -> tuple[float, float, float]:
    """Return the unit normal of a fold's line, its first number not negative, and its distance."""
    points = [(float(p.x), float(p.y)) for piece in line.pieces for p in piece.points]
    start, end = min(points), max(points)
    dx, dy = end[0] - start[0], end[1] - start[1]
    length = (dx * dx + dy * dy) ** 0.5 or 1.0
    a, b = dy / length, -dx / length
    return a, b, a * start[0] + b * start[1]
