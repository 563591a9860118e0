"""What keeps the panels that share a plane from lying in any order: their creases and each other."""

from __future__ import annotations

import math
from collections.abc import Container, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations
from typing import Any

from ..part import FoldKey, Line, LineKind, Part
from ..rigid import Pose
from .flat_order import Constraint, FlatState, straight
from .layering import ClashKind, Pair
from .meeting import (
    IN_PLANE,
    LEAST_AREA,
    Flat,
    Motion,
    Sheet,
    between,
    boxes_meet,
    in_floats,
    level_height,
    shape_of,
)

Shape = Any
HALF_TURN = 180
INSIDE = 1e-3  #: mm; what reaches less far into a panel only touches its edge
SHORTEST = 1e-2  #: mm; creases that share less only touch
MOST_IN_CIRCLES = 70  #: panels; of more, three by three, only the finished order is held against it
ASIDE = 1e-2  #: mm; how far beside a crease to look for its panel


@dataclass(frozen=True)
class _Joint:
    """A line at which two panels of the plane hang together, folded over or flat."""

    key: FoldKey | None
    first: str
    second: str
    line: Shape
    is_folded: bool


@dataclass(frozen=True)
class _Plane:
    """The panels of one plane in its coordinates."""

    corners: Mapping[str, Sequence[Flat]]
    shapes: Mapping[str, Shape]
    inner: Mapping[str, Shape]  #: a little smaller, with what hangs on flat
    joints: Sequence[_Joint]
    pairs: Mapping[Pair, None]  #: that overlap, in order; looked up very often


def flat_states(part: Part, sheet: Sheet, poses: Mapping[str, Pose]) -> list[FlatState]:
    """Return the sets of panels of a folded part that share a plane and overlap there."""
    motions = in_floats(poses)
    planes: list[dict[str, Motion]] = []
    for name in sheet.outlines:
        for plane in planes:
            motion = between(motions[next(iter(plane))], motions[name])
            height = level_height(motion)
            if height is not None and abs(height) <= IN_PLANE:
                plane[name] = motion
                break
        else:
            planes.append({name: between(motions[name], motions[name])})
    states = (_state(part, sheet, plane) for plane in planes if len(plane) > 1)
    return [state for state in states if state.pairs]


def _state(part: Part, sheet: Sheet, motions: Mapping[str, Motion]) -> FlatState:
    plane = _plane(part, sheet, motions)
    ups = {name: 1 if motion[8] > 0 else -1 for name, motion in motions.items()}
    constraints = (
        *_uncut(plane),
        *_not_interleaved(plane),
        *_not_crossing(plane),
        *_not_in_circles(plane),
    )
    return FlatState(
        tuple(sorted(motions)),
        ups,
        tuple(plane.pairs),
        _by_folds(part, ups, plane.pairs),
        constraints,
    )


def _plane(part: Part, sheet: Sheet, motions: Mapping[str, Motion]) -> _Plane:
    corners = {
        name: [motion.at(*corner)[:2] for corner in sheet.corners[name]]
        for name, motion in motions.items()
    }
    shapes = {name: shape_of(ring) for name, ring in corners.items()}
    joints = [joint for line in part.lines for joint in _joints(line, motions)]
    joints += _faces(part, shapes)
    pairs = dict.fromkeys(
        pair
        for pair in combinations(sorted(motions), 2)
        if boxes_meet(corners[pair[0]], corners[pair[1]])
        and shapes[pair[0]].intersection(shapes[pair[1]]).area > LEAST_AREA
    )
    return _Plane(corners, shapes, _inner(shapes, joints), joints, pairs)


def _joints(line: Line, motions: Mapping[str, Motion]) -> Iterator[_Joint]:
    from shapely import LineString, unary_union

    first, second = line.key.first, line.key.second
    if line.kind is LineKind.SLIT or first not in motions or second not in motions:
        return
    is_folded = line.kind is LineKind.FOLD and abs(line.angle_deg) == HALF_TURN
    rows = [[motions[first].at(float(x), float(y))[:2] for x, y in p.points] for p in line.pieces]
    lines = [LineString(row) for row in rows if len(row) > 1]
    yield _Joint(line.key, first, second, unary_union(lines), is_folded)


def _faces(part: Part, shapes: Mapping[str, Shape]) -> Iterator[_Joint]:
    """Yield the borders between panels that are one face."""
    for first, second in part.rigid:
        if first in shapes and second in shapes:
            border = shapes[first].boundary.intersection(shapes[second].boundary)
            yield _Joint(None, first, second, border, False)


def _inner(shapes: Mapping[str, Shape], joints: Sequence[_Joint]) -> Mapping[str, Shape]:
    grown = dict(shapes)
    for joint in joints:
        if not joint.is_folded:
            both = shapes[joint.first].union(shapes[joint.second])
            for name in (joint.first, joint.second):
                grown[name] = grown[name].union(both)
    return {name: shape.buffer(-INSIDE, join_style="mitre") for name, shape in grown.items()}


def _by_folds(part: Part, ups: Mapping[str, int], pairs: Container[Pair]) -> dict[Pair, int]:
    """Return which of the two panels of each half-turn fold lies on top."""
    fixed = {}
    for line in part.folds:
        first, second = line.key.first, line.key.second
        pair = straight((first, second))
        if abs(line.angle_deg) == HALF_TURN and pair in pairs:
            value = ups[first] * (1 if line.angle_deg > 0 else -1)
            fixed[pair] = value if pair == (first, second) else -value
    return fixed


def _uncut(plane: _Plane) -> Iterator[Constraint]:
    """Yield that both panels of a joint lie on one side of a panel that the joint runs into."""
    for joint in plane.joints:
        for name, inner in plane.inner.items():
            first, second = straight((name, joint.first)), straight((name, joint.second))
            if first not in plane.pairs or second not in plane.pairs:
                continue
            if joint.line.intersection(inner).length > SHORTEST:
                yield Constraint(
                    ((name, joint.first), (name, joint.second)),
                    lambda values: values[0] == values[1],
                    ClashKind.CREASE_INSIDE,
                    joint.first,
                    name,
                    joint.key,
                )


def _not_interleaved(plane: _Plane) -> Iterator[Constraint]:
    """Yield that of two creases in one place neither has one panel between those of the other."""
    for one, other in combinations([j for j in plane.joints if j.is_folded], 2):
        names = (one.first, one.second, other.first, other.second)
        crossed = tuple((a, b) for b in names[2:] for a in names[:2])
        if not all(straight(pair) in plane.pairs for pair in crossed):
            continue
        shared = one.line.intersection(other.line.buffer(INSIDE, cap_style="flat"))
        if shared.length > SHORTEST and _is_on_one_side(plane, one.first, other.first, shared):
            yield Constraint(
                crossed,
                lambda v: (v[0] != v[1]) == (v[2] != v[3]),
                ClashKind.INTERLEAVED,
                one.first,
                other.first,
                one.key,
            )


def _not_crossing(plane: _Plane) -> Iterator[Constraint]:
    """Yield that of two faces whose joints lie in one place one is over the other on both sides."""
    for one, other in combinations([j for j in plane.joints if not j.is_folded], 2):
        first, second = (one.first, other.first), (one.second, other.second)
        shared = one.line.intersection(other.line.buffer(INSIDE, cap_style="flat"))
        if shared.length <= SHORTEST:
            continue
        if not _is_on_one_side(plane, *first, shared):
            first, second = (one.first, other.second), (one.second, other.first)
        if straight(first) in plane.pairs and straight(second) in plane.pairs:
            yield Constraint(
                (first, second),
                lambda v: v[0] == v[1],
                ClashKind.INTERLEAVED,
                one.first,
                other.first,
                one.key,
            )


def _is_on_one_side(plane: _Plane, first: str, second: str, line: Shape) -> bool:
    """Return whether two panels lie on the same side of a line that is on the border of both."""
    from shapely import Point

    row = next((piece for piece in getattr(line, "geoms", [line]) if piece.length > SHORTEST), line)
    (x0, y0), (x1, y1) = row.coords[0], row.coords[-1]
    length = math.dist((x0, y0), (x1, y1))
    across = -(y1 - y0) / length * ASIDE, (x1 - x0) / length * ASIDE
    left = Point((x0 + x1) / 2 + across[0], (y0 + y1) / 2 + across[1])
    return bool(plane.shapes[first].covers(left) == plane.shapes[second].covers(left))


def _not_in_circles(plane: _Plane) -> Iterator[Constraint]:
    """Yield that no three panels with a common area lie over each other in a circle."""
    shapes, pairs = plane.shapes, plane.pairs
    for a, b in pairs if len(shapes) <= MOST_IN_CIRCLES else ():
        common: Shape = shapes[a].intersection(shapes[b])
        for c in (c for c in shapes if c > b and (a, c) in pairs and (b, c) in pairs):
            if common.intersection(shapes[c]).area > LEAST_AREA:
                yield Constraint(
                    ((a, b), (b, c), (c, a)),
                    lambda v: not v[0] == v[1] == v[2],
                    ClashKind.INTERLEAVED,
                    a,
                    b,
                )
