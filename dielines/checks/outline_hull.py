"""The outline that panels fold into: notches and bays closed; and what sticks out beyond it."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from itertools import pairwise
from typing import NamedTuple

from ..paths import Bounds, Number, Path, Point, bounds_of, flattened, nearest_between

SAGITTA = 0.01  #: mm, how far a chord lies from its arc
SQUARE = 1e-9  #: share of the area by which a rectangle may miss its bounds

Flat = tuple[Number, Number]


class Hull(NamedTuple):
    """A convex outline: *bounds* alone where it is an upright rectangle, else its *corners* too."""

    bounds: Bounds
    corners: tuple[tuple[float, float], ...] = ()


class Beyond(NamedTuple):
    """What lies outside: how far (mm), where, and in which direction from the outline."""

    distance: Number
    place: Point
    way: tuple[float, float]


def corners_of(path: Path) -> Sequence[Flat]:
    """Return the corners of a path as they are, and points along its arcs."""
    if not any(vertex.bulge for vertex in path.vertices):
        return path.points
    corners = {(float(x), float(y)) for x, y in path.points}
    along = [p for p in flattened(path, SAGITTA) if min(math.dist(p, c) for c in corners) > SAGITTA]
    return [*path.points, *along]


def hull_of(outlines: Iterable[Path]) -> Hull:
    """Return the convex hull of *outlines*."""
    paths = list(outlines)
    bounds = bounds_of(paths)
    corners = convex_hull([(float(x), float(y)) for p in paths for x, y in corners_of(p)])
    whole = float(bounds.width * bounds.height)
    is_rectangle = abs(_area(corners) - whole) <= SQUARE * whole
    return Hull(bounds, () if is_rectangle else tuple(corners))


def convex_hull(points: Iterable[tuple[float, float]]) -> list[tuple[float, float]]:
    """Return the corners of the smallest convex outline around *points*, counter-clockwise.

    Monotone chain (Andrew, 1979).
    """
    ordered = sorted(set(points))
    lower, upper = _chain(ordered), _chain(reversed(ordered))
    return [*lower[:-1], *upper[:-1]]


def _chain(points: Iterable[tuple[float, float]]) -> list[tuple[float, float]]:
    chain: list[tuple[float, float]] = []
    for point in points:
        while len(chain) > 1 and _turn(chain[-2], chain[-1], point) <= 0:
            chain.pop()
        chain.append(point)
    return chain


def _turn(a: tuple[float, float], b: tuple[float, float], c: tuple[float, float]) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def _area(corners: Sequence[tuple[float, float]]) -> float:
    return sum(a[0] * b[1] - b[0] * a[1] for a, b in pairwise([*corners, corners[0]])) / 2


def beyond(hull: Hull, points: Iterable[Flat]) -> Beyond | None:
    """Return which of *points* lies farthest outside of *hull*; None where all are inside.

    Exact on exact coordinates where the hull is a rectangle.
    """
    found = [b for point in points if (b := _outside(hull, point)) is not None]
    return max(found, key=lambda b: b.distance, default=None)


def _outside(hull: Hull, point: Flat) -> Beyond | None:
    box, (x, y) = hull.bounds, point
    dx = max(box.left - x, x - box.right, 0)
    dy = max(box.bottom - y, y - box.top, 0)
    if not hull.corners:
        if not dx and not dy:
            return None
        way = (float(-dx if x < box.left else dx), float(-dy if y < box.bottom else dy))
        return Beyond(math.hypot(dx, dy) if dx and dy else dx + dy, Point(x, y), way)
    return _outside_corners(hull.corners, (float(x), float(y)))


def _outside_corners(
    corners: Sequence[tuple[float, float]], point: tuple[float, float]
) -> Beyond | None:
    edges = list(pairwise([*corners, corners[0]]))
    if all(_turn(a, b, point) >= 0 for a, b in edges):
        return None
    nearest = min(
        (nearest_between(a, b, point) for a, b in edges), key=lambda p: math.dist(p, point)
    )
    way = (point[0] - nearest[0], point[1] - nearest[1])
    return Beyond(math.dist(nearest, point), Point(*point), way)
