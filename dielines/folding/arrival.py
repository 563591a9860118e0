"""The order of layers, from the side from which each panel lands while the steps are played.

After each step every two panels that have come to share a plane are looked at
just before the end of the step: where one lands upon the other all of it comes
from one side. Panels that did not move against each other keep their order.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import combinations, pairwise
from typing import Any

from ..hinges import Skeleton
from ..part import FoldKey, Step
from ..paths import Number, Path, flattened
from ..poses import posed
from ..rigid import Pose, relative
from .layering import Clash, ClashKind, Pair

Shape = Any
"""A shapely geometry."""
Angles = Mapping[FoldKey, Number]
Flat = tuple[float, float]

PARALLEL = 1e-9  #: sine of the angle up to which panels count as parallel
IN_PLANE = 1e-6  #: mm; heights up to this share a plane
LEAST_AREA = 1e-3  #: mm2; panels that share less only touch
#: How far before the end of a step to look, as a share of it. Any from 1e-5 to 0.2 gives the same.
BEFORE_LANDING = 1e-3
#: Points lower than this share of the highest one count as lying in the plane: a hinge that
#: lands together with its panel dips below it, by a second-order amount.
DIPS = 0.02


@dataclass
class Landing:
    """What the steps played so far have brought about."""

    sides: dict[Pair, int] = field(default_factory=dict)
    clashes: list[Clash] = field(default_factory=list)
    unclear: list[Pair] = field(default_factory=list)


def arrivals(
    outlines: Mapping[str, Path],
    bones: Skeleton,
    reached: Sequence[Angles],
    steps: Sequence[Step] = (),
) -> Landing:
    """Return the sides on which panels come to lie; *reached* are the angles flat and after each step.

    *sides* has both (a, b) and (b, a) for panels that overlap in one plane or in
    parallel planes once all is folded.
    """
    corners = {name: flattened(path) for name, path in outlines.items()}
    found = Landing()
    before = posed(bones, reached[0])
    for number, (start, end) in enumerate(pairwise(reached), 1):
        after = posed(bones, end)
        near = posed(bones, _shortly_before(start, end))
        tucked = steps[number - 1].under if number <= len(steps) else ()
        for pair in combinations(outlines, 2):
            _land(found, corners, pair, (before, near, after), number, tucked)
        before = after
    found.unclear = [pair for pair in found.unclear if pair not in found.sides]
    return found


def _shortly_before(start: Angles, end: Angles) -> dict[FoldKey, float]:
    share = 1 - BEFORE_LANDING
    return {key: float(a) + (float(end[key]) - float(a)) * share for key, a in start.items()}


def _land(
    found: Landing,
    corners: Mapping[str, Sequence[Flat]],
    pair: Pair,
    poses: tuple[Mapping[str, Pose], Mapping[str, Pose], Mapping[str, Pose]],
    step: int,
    tucked: Sequence[Pair],
) -> None:
    """Note on which side of the first panel of *pair* the second lies after a step."""
    a, b = pair
    before, near, after = (relative(placed[a], placed[b]) for placed in poses)
    if step > 1 and _is_same(before, after):
        return
    _forget(found, pair)
    height = level_height(after)
    if height is None:
        return
    shared = overlap(corners[a], corners[b], after)
    if shared is None:
        return
    if abs(height) > IN_PLANE:
        _keep(found, pair, 1 if height > 0 else -1, after)
        return
    side = _side_of(list(_heights_before(shared, after, near)))
    if (a, b) in tucked or (b, a) in tucked:
        side = -side if side else side
    if side is None:
        found.clashes.append(Clash(ClashKind.THROUGH, a, b, step))
    elif side:
        _keep(found, pair, side, after)
    else:
        found.unclear.append(pair)


def level_height(motion: Pose) -> float | None:
    """Return how high a panel lies over the face of another; None where they are not parallel."""
    slopes = motion.rotation[2][:2]
    if any(abs(float(slope)) > PARALLEL for slope in slopes):
        return None
    return float(motion.translation[2])


def overlap(first: Sequence[Flat], second: Sequence[Flat], motion: Pose) -> Shape | None:
    """Return what two panels have in common, in the drawing of the first; None where only a border.

    *motion* takes the drawing of the second into that of the first.
    """
    moved = [_flat(motion, corner) for corner in second]
    if not _boxes_meet(first, moved):
        return None
    from shapely import Polygon, make_valid

    one, other = (make_valid(Polygon(points)) for points in (first, moved))
    shared = one.intersection(other)
    return shared if shared.area > LEAST_AREA else None


def _flat(motion: Pose, corner: Flat) -> Flat:
    x, y, _ = motion.at(corner)
    return float(x), float(y)


def _boxes_meet(first: Sequence[Flat], second: Sequence[Flat]) -> bool:
    for axis in (0, 1):
        ours, theirs = [p[axis] for p in first], [p[axis] for p in second]
        if max(ours) <= min(theirs) + IN_PLANE or max(theirs) <= min(ours) + IN_PLANE:
            return False
    return True


def _heights_before(shared: Shape, after: Pose, near: Pose) -> Iterator[float]:
    """Yield how high the corners of what is shared are, just before they land."""
    from shapely import get_coordinates

    back = after.inverse()
    for x, y in get_coordinates(shared):
        own = back.at((float(x), float(y)), after.translation[2])
        yield float(near.at((own[0], own[1]))[2])


def _side_of(heights: Sequence[float]) -> int | None:
    """Return the side from which points land: 0 where they never rose, None from both."""
    highest = max((abs(height) for height in heights), default=0.0)
    if highest <= IN_PLANE * BEFORE_LANDING:
        return 0
    sides = {1 if height > 0 else -1 for height in heights if abs(height) > DIPS * highest}
    return sides.pop() if len(sides) == 1 else None


def _keep(found: Landing, pair: Pair, side: int, motion: Pose) -> None:
    a, b = pair
    is_turned_over = motion.rotation[2][2] < 0
    found.sides[a, b] = side
    found.sides[b, a] = side if is_turned_over else -side


def _forget(found: Landing, pair: Pair) -> None:
    """Drop what was known of a pair that has moved against each other."""
    a, b = pair
    found.sides.pop((a, b), None)
    found.sides.pop((b, a), None)
    found.unclear[:] = [known for known in found.unclear if known != pair]


def _is_same(before: Pose, after: Pose) -> bool:
    if before == after:
        return True
    rows = zip(before.rotation, after.rotation, strict=True)
    turned = max(abs(float(x - y)) for row, other in rows for x, y in zip(row, other, strict=True))
    places = zip(before.translation, after.translation, strict=True)
    return turned <= PARALLEL and max(abs(float(x - y)) for x, y in places) <= IN_PLANE
