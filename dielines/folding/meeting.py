"""How two panels of a folded part lie to each other, and what they have in common."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import combinations
from typing import Any, NamedTuple

from ..hinges import Hinge, Skeleton
from ..part import FoldKey
from ..paths import Number, Path, flattened
from ..rigid import Pose, cosine_and_sine
from .layering import Pair

Shape = Any
"""A shapely geometry."""
Flat = tuple[float, float]
Axis = tuple[float, float, float, float]
"""A place on a line, and the line's direction of length 1."""

PARALLEL = 1e-9  #: sine of the angle up to which panels count as parallel
IN_PLANE = 1e-6  #: mm; heights up to this share a plane
TURNS = 9  #: of the numbers of a motion are of its rotation
LEAST_AREA = 1e-3  #: mm2; panels that share less only touch


class Motion(NamedTuple):
    """A rigid motion in floats, row by row: fast, and all that comparing needs."""

    xx: float
    xy: float
    xz: float
    yx: float
    yy: float
    yz: float
    zx: float
    zy: float
    zz: float
    x: float
    y: float
    z: float

    def at(self, x: float, y: float) -> tuple[float, float, float]:
        """Return where the flat place (*x*, *y*) goes."""
        return (
            self[0] * x + self[1] * y + self[9],
            self[3] * x + self[4] * y + self[10],
            self[6] * x + self[7] * y + self[11],
        )

    def back(self, x: float, y: float) -> Flat:
        """Return the flat place that comes to (*x*, *y*) in the plane of a parallel panel."""
        return self.origin_of(x, y, self[11])

    def origin_of(self, x: float, y: float, z: float) -> Flat:
        """Return the flat place that comes to a place in space."""
        dx, dy, dz = x - self[9], y - self[10], z - self[11]
        return (
            self[0] * dx + self[3] * dy + self[6] * dz,
            self[1] * dx + self[4] * dy + self[7] * dz,
        )


#: The motion of what stays where it lies.
AT_REST = Motion(1, 0, 0, 0, 1, 0, 0, 0, 1, 0, 0, 0)


def in_floats(poses: Mapping[str, Pose]) -> dict[str, Motion]:
    """Return poses by panel as motions."""
    return {
        name: Motion(*(float(x) for row in (*pose.rotation, pose.translation) for x in row))
        for name, pose in poses.items()
    }


def between(seen_from: Motion, motion: Motion) -> Motion:
    """Return what takes the drawing of the panel at *motion* into that of the one at *seen_from*."""
    a, b, c, d, e, f, g, h, i, u, v, w = seen_from
    j, k, m, n, o, p, q, r, s, x, y, z = motion
    dx, dy, dz = x - u, y - v, z - w
    return Motion(
        a * j + d * n + g * q, a * k + d * o + g * r, a * m + d * p + g * s,
        b * j + e * n + h * q, b * k + e * o + h * r, b * m + e * p + h * s,
        c * j + f * n + i * q, c * k + f * o + i * r, c * m + f * p + i * s,
        a * dx + d * dy + g * dz, b * dx + e * dy + h * dz, c * dx + f * dy + i * dz,
    )  # fmt: skip


def joined(outer: Motion, inner: Motion) -> Motion:
    """Return the motion that does *inner* first and *outer* after it."""
    a, b, c, d, e, f, g, h, i, u, v, w = outer
    j, k, m, n, o, p, q, r, s, x, y, z = inner
    return Motion(
        a * j + b * n + c * q, a * k + b * o + c * r, a * m + b * p + c * s,
        d * j + e * n + f * q, d * k + e * o + f * r, d * m + e * p + f * s,
        g * j + h * n + i * q, g * k + h * o + i * r, g * m + h * p + i * s,
        a * x + b * y + c * z + u, d * x + e * y + f * z + v, g * x + h * y + i * z + w,
    )  # fmt: skip


def level_height(motion: Motion) -> float | None:
    """Return how high a panel lies over the face of another; None where they are not parallel."""
    if abs(motion[6]) > PARALLEL or abs(motion[7]) > PARALLEL:
        return None
    return motion[11]


@dataclass(frozen=True)
class Sheet:
    """A flat part, prepared for looking at many pairs of its panels."""

    outlines: Mapping[str, Path]
    bones: Skeleton

    @cached_property
    def axes(self) -> Mapping[FoldKey, Axis]:
        """The line that each fold turns about, in floats, which turn much faster than fractions."""
        links = (link.hinge for link in self.bones.links if link.hinge)
        return {hinge.key: _axis(hinge) for hinge in (*links, *self.bones.loops)}

    def motions(self, angles: Mapping[FoldKey, Number]) -> dict[str, Motion]:
        """Return where every panel is with the folds at *angles* (degrees), in floats."""
        placed = {self.bones.root: AT_REST}
        for link in self.bones.links:
            placed[link.child] = placed[link.parent]
            if link.hinge and angles[link.hinge.key]:
                turn = self.turn(link.hinge.key, angles)
                placed[link.child] = joined(placed[link.parent], turn)
        return placed

    def turn(self, key: FoldKey, angles: Mapping[FoldKey, Number]) -> Motion:
        """Return what a fold at its angle does to the panel beyond it."""
        return _turn(self.axes[key], float(angles[key]))

    @cached_property
    def corners(self) -> Mapping[str, Sequence[Flat]]:
        """The corners of every panel, arcs as chords."""
        return {
            name: [(float(x), float(y)) for x, y in flattened(path)]
            for name, path in self.outlines.items()
        }

    @cached_property
    def shapes(self) -> Mapping[str, Shape]:
        """Every panel as a shape of the geometry library."""
        return {name: shape_of(corners) for name, corners in self.corners.items()}

    def overlap(self, pair: Pair, motion: Motion) -> Sequence[Flat]:
        """Return the corners of what two parallel panels share, in the first's drawing.

        Empty where only a border is shared. *motion* takes the second's drawing into the first's.
        """
        first, second = (self.corners[name] for name in pair)
        moved = [motion.at(*corner)[:2] for corner in second]
        if not boxes_meet(first, moved):
            return ()
        if _is_upright(first) and _is_upright(moved):
            return _shared_rectangle(first, moved)
        from shapely import get_coordinates

        shared = self.shapes[pair[0]].intersection(shape_of(moved))
        if shared.area <= LEAST_AREA:
            return ()
        return [(float(x), float(y)) for x, y in get_coordinates(shared)]


def _axis(hinge: Hinge) -> Axis:
    x, y = float(hinge.start.x), float(hinge.start.y)
    dx, dy = float(hinge.end.x) - x, float(hinge.end.y) - y
    length = math.hypot(dx, dy)
    return x, y, dx / length, dy / length


def _turn(axis: Axis, angle_deg: float) -> Motion:
    """Return the right-hand turn about an axis; exact for quarter turns about level and upright ones."""
    x, y, along, up = axis
    cosine, sine = map(float, cosine_and_sine(angle_deg))
    rest = 1 - cosine
    xx, xy, yy = cosine + rest * along * along, rest * along * up, cosine + rest * up * up
    zx, zy = -sine * up, sine * along
    return Motion(
        xx, xy, -zx, xy, yy, -zy, zx, zy, cosine,
        x - xx * x - xy * y, y - xy * x - yy * y, -zx * x - zy * y,
    )  # fmt: skip


def shape_of(corners: Sequence[Flat]) -> Shape:
    """Return a ring of corners as a valid shape."""
    from shapely import Polygon, make_valid

    shape = Polygon(corners)
    return shape if shape.is_valid else make_valid(shape)


def boxes_meet(first: Sequence[Flat], second: Sequence[Flat]) -> bool:
    """Return whether the rectangles around two rows of corners share more than a border."""
    for axis in (0, 1):
        ours, theirs = [p[axis] for p in first], [p[axis] for p in second]
        if max(ours) <= min(theirs) + IN_PLANE or max(theirs) <= min(ours) + IN_PLANE:
            return False
    return True


def _is_upright(corners: Sequence[Flat]) -> bool:
    """Return whether four corners are a rectangle whose edges run across and up."""
    if len(corners) != 4:
        return False
    xs, ys = sorted(c[0] for c in corners), sorted(c[1] for c in corners)
    near = max(xs[1] - xs[0], xs[3] - xs[2], ys[1] - ys[0], ys[3] - ys[2]) <= IN_PLANE
    return near and len({(x > xs[1], y > ys[1]) for x, y in corners}) == 4


def _shared_rectangle(first: Sequence[Flat], second: Sequence[Flat]) -> Sequence[Flat]:
    (low, high), (other_low, other_high) = _ends(first), _ends(second)
    left, bottom = max(low[0], other_low[0]), max(low[1], other_low[1])
    right, top = min(high[0], other_high[0]), min(high[1], other_high[1])
    if (right - left) * (top - bottom) <= LEAST_AREA:
        return ()
    return (left, bottom), (right, bottom), (right, top), (left, top)


def _ends(corners: Sequence[Flat]) -> tuple[Flat, Flat]:
    """Return the lower left and the upper right corner of an upright rectangle."""
    xs, ys = [c[0] for c in corners], [c[1] for c in corners]
    return (min(xs), min(ys)), (max(xs), max(ys))


def moved_pairs(
    sheet: Sheet,
    start: Mapping[FoldKey, Number],
    end: Mapping[FoldKey, Number],
    poses: tuple[Mapping[str, Motion], Mapping[str, Motion], Mapping[str, Motion]],
) -> Iterator[tuple[Pair, Motion]]:
    """Yield the pairs of panels that move against each other in a step, and how they lie after it.

    *poses* are those before, shortly before the end and after: a fold that goes from
    180 degrees back to -180 ends as it began, and yet comes to the other side.
    """
    block = _blocks(sheet.bones, start, end)
    before, near, after = poses
    for a, b in combinations(sheet.outlines, 2):
        if block[a] != block[b]:
            motion = between(after[a], after[b])
            if not all(_is_same(between(p[a], p[b]), motion) for p in (before, near)):
                yield (a, b), motion


def _blocks(
    bones: Skeleton, start: Mapping[FoldKey, Number], end: Mapping[FoldKey, Number]
) -> Mapping[str, str]:
    """Return of each panel one that it does not move against, the same for all of a block."""
    block = {bones.root: bones.root}
    for link in bones.links:
        key = link.hinge.key if link.hinge else None
        is_still = key is None or start[key] == end[key]
        block[link.child] = block[link.parent] if is_still else link.child
    return block


def _is_same(before: Motion, after: Motion) -> bool:
    for number, (a, b) in enumerate(zip(before, after, strict=True)):
        if abs(a - b) > (PARALLEL if number < TURNS else IN_PLANE):
            return False
    return True
