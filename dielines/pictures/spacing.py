"""How far layers are drawn apart that in truth lie on one another.

Every two panels that are parallel and overlap, one over the other, get at least a
gap; whatever is farther apart already stays where it is. That is a system of
differences, h(b) - h(a) >= gap. Its longest paths upwards from where the panels
lie, and downwards, are both solutions, and so is the middle between them, which
spreads a stack evenly to both sides and needs no linear programme.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from graphlib import CycleError, TopologicalSorter

Pair = tuple[str, str]


def spread(
    heights: Mapping[str, float], above: Iterable[Pair], gap: float, fixed: str = ""
) -> dict[str, float]:
    """Return new heights in which of every pair (a, b) of *above* b lies *gap* over a.

    *heights* are where the things lie, mm. Things that lie over each other in a circle
    keep their heights. With *fixed*, that one stays where it is and all are moved alike.
    """
    order, pairs = _without_circles(heights, above)
    up, down = dict(heights), dict(heights)
    over, under = defaultdict(list), defaultdict(list)
    for lower, upper in pairs:
        over[lower].append(upper)
        under[upper].append(lower)
    for name in order:
        up[name] = max([heights[name], *(up[other] + gap for other in under[name])])
    for name in reversed(order):
        down[name] = min([heights[name], *(down[other] - gap for other in over[name])])
    middle = {name: (up[name] + down[name]) / 2 for name in heights}
    offset = heights[fixed] - middle[fixed] if fixed in heights else 0.0
    return {name: height + offset for name, height in middle.items()}


def _without_circles(
    heights: Mapping[str, float], above: Iterable[Pair]
) -> tuple[Sequence[str], list[Pair]]:
    """Return the names from below upwards, and the pairs that are in no circle."""
    pairs = sorted(set(above))
    while True:
        under: dict[str, set[str]] = {name: set() for name in heights}
        for lower, upper in pairs:
            under[upper].add(lower)
        try:
            return list(TopologicalSorter(under).static_order()), pairs
        except CycleError as problem:
            circle = problem.args[1]
            members = {(a, b) for a in circle for b in circle}
            pairs = [pair for pair in pairs if pair not in members]
