"""Panels that stand through each other once a step of folding is finished."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from itertools import combinations, pairwise

from ..paths import Path, flattened, is_among
from ..rigid import Pose, relative
from .arrival import level_height
from .layering import Clash, ClashKind

Flat = tuple[float, float]
Spatial = Sequence[float]

ABOVE = 1e-4  #: mm; what rises less has not left the plane
INSIDE = 1e-3  #: mm; how far inside a panel it must be pierced, so that hinges do not count


def pierced(outlines: Mapping[str, Path], poses: Mapping[str, Pose], step: int) -> Iterator[Clash]:
    """Yield every panel that stands through another after a step: an edge of it changes sides.

    Panels in one plane, or in parallel planes, are a matter of their order.
    """
    corners = {name: flattened(path) for name, path in outlines.items()}
    for a, b in combinations(outlines, 2):
        motion = relative(poses[a], poses[b])
        if level_height(motion) is not None:
            continue
        if _goes_through(corners[b], corners[a], motion):
            yield Clash(ClashKind.PIERCED, a, b, step)
        elif _goes_through(corners[a], corners[b], motion.inverse()):
            yield Clash(ClashKind.PIERCED, b, a, step)


def _goes_through(moving: Sequence[Flat], panel: Sequence[Flat], motion: Pose) -> bool:
    """Return whether an edge of *moving* goes through *panel*, in whose drawing *motion* puts it."""
    placed = [tuple(map(float, motion.at(corner))) for corner in moving]
    return any(
        _is_inside(_crossing(start, end), panel)
        for start, end in pairwise([*placed, placed[0]])
        if min(start[2], end[2]) < -ABOVE and max(start[2], end[2]) > ABOVE
    )


def _crossing(start: Spatial, end: Spatial) -> Flat:
    """Return where an edge goes through the plane of height 0."""
    share = start[2] / (start[2] - end[2])
    return start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1])


def _is_inside(point: Flat, panel: Sequence[Flat]) -> bool:
    """Return whether *point* lies inside a panel, not on or near its border."""
    if not is_among(panel, point):
        return False
    return all(_distance(point, a, b) > INSIDE for a, b in pairwise([*panel, panel[0]]))


def _distance(point: Flat, start: Flat, end: Flat) -> float:
    dx, dy = end[0] - start[0], end[1] - start[1]
    square = dx * dx + dy * dy
    share = 0.0
    if square:
        share = ((point[0] - start[0]) * dx + (point[1] - start[1]) * dy) / square
    share = min(max(share, 0.0), 1.0)
    x, y = start[0] + share * dx - point[0], start[1] + share * dy - point[1]
    return math.hypot(x, y)


def pierced_in_steps(
    outlines: Mapping[str, Path], stages: Sequence[Mapping[str, Pose]]
) -> Iterator[Clash]:
    """Yield what stands through what after each step, each pair once; *stages* are the poses then."""
    seen = set()
    for step, poses in enumerate(stages, 1):
        for clash in pierced(outlines, poses, step):
            if (clash.first, clash.second) not in seen:
                seen.add((clash.first, clash.second))
                yield clash
