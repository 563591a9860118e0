"""How far layers are drawn apart that in truth lie on one another.

Every two panels that are parallel and overlap, one over the other, get at least a
gap; whatever is farther apart already stays where it is. That is a system of
differences, h(b) - h(a) >= gap. Its longest paths upwards from where the panels
lie, and downwards, are both solutions, and so is the middle between them, which
spreads a stack evenly to both sides and needs no linear programme.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Hashable, Iterable, Mapping, Sequence
from graphlib import CycleError, TopologicalSorter
from typing import TypeVar

Name = TypeVar("Name", bound=Hashable)


def spread(
    heights: Mapping[Name, float],
    above: Iterable[tuple[Name, Name, float]],
    fixed: Name | None = None,
) -> dict[Name, float]:
    """Return new heights in which of every (a, b, gap) of *above* b lies at least *gap* over a.

    *heights* are where the things lie, mm. Things that lie over each other in a circle
    keep together. With *fixed*, that one stays where it is and all are moved alike.
    """
    leaders, order, pairs = _without_circles(heights, list(above))
    up, down = dict(heights), dict(heights)
    over, under = defaultdict(list), defaultdict(list)
    for lower, upper, gap in pairs:
        over[lower].append((upper, gap))
        under[upper].append((lower, gap))
    for name in order:
        up[name] = max([heights[name], *(up[other] + gap for other, gap in under[name])])
    for name in reversed(order):
        down[name] = min([heights[name], *(down[other] - gap for other, gap in over[name])])
    lifts = {name: (up[name] + down[name]) / 2 - heights[name] for name in order}
    offset = lifts[leaders[fixed]] if fixed in leaders else 0.0
    return {name: heights[name] + lifts[leaders[name]] - offset for name in heights}


def _without_circles(
    heights: Mapping[Name, float], above: list[tuple[Name, Name, float]]
) -> tuple[dict[Name, Name], Sequence[Name], list[tuple[Name, Name, float]]]:
    """Return who stands for whom, those from below upwards, and the pairs among them."""
    leaders = {name: name for name in heights}
    while True:
        pairs = [(leaders[a], leaders[b], gap) for a, b, gap in above if leaders[a] != leaders[b]]
        under: dict[Name, list[Name]] = {leader: [] for leader in leaders.values()}
        for lower, upper, _ in pairs:
            under[upper].append(lower)
        try:
            return leaders, list(TopologicalSorter(under).static_order()), pairs
        except CycleError as problem:
            circle = problem.args[1]
            leaders = {
                n: circle[0] if leader in circle else leader for n, leader in leaders.items()
            }
