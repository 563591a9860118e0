"""Paths of straight lines and true arcs in the plane, in millimetres, y up.

A path is a row of vertices; each carries the *bulge* of the segment that leaves
it: the tangent of a quarter of the included angle, positive when the arc runs
counter-clockwise, 0 for a straight line (DXF Reference, VERTEX, group 42).
A coordinate is an exact fraction where the construction allows it and a float
where it does not, so that sums of panels stay exact.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import NamedTuple

Number = Fraction | float
"""An exact fraction or a float; sums of fractions stay fractions."""


class Point(NamedTuple):
    """A place in the plane, mm."""

    x: Number
    y: Number


@dataclass(frozen=True, slots=True)
class Vertex:
    """A corner of a path and the bulge of the segment that leaves it."""

    x: Number
    y: Number
    bulge: Number = Fraction(0)

    @property
    def point(self) -> Point:
        """The place of the corner."""
        return Point(self.x, self.y)


class Segment(NamedTuple):
    """A straight line or an arc from *start* to *end*."""

    start: Point
    end: Point
    bulge: Number


class Arc(NamedTuple):
    """A circular arc: centre, radius, start and swept angle (radians, positive counter-clockwise)."""

    centre: Point
    radius: float
    start_angle: float
    sweep: float


class Bounds(NamedTuple):
    """The smallest upright rectangle around something."""

    left: Number
    bottom: Number
    right: Number
    top: Number

    @property
    def width(self) -> Number:
        """Extent across."""
        return self.right - self.left

    @property
    def height(self) -> Number:
        """Extent up."""
        return self.top - self.bottom


@dataclass(frozen=True, slots=True)
class Path:
    """An ordered row of segments; a closed one returns to its first vertex."""

    vertices: tuple[Vertex, ...]
    closed: bool = True

    @property
    def points(self) -> tuple[Point, ...]:
        """The places of the vertices."""
        return tuple(vertex.point for vertex in self.vertices)

    def segments(self) -> Iterator[Segment]:
        """Yield the segments in order, the closing one included."""
        ends = self.vertices[1:] + (self.vertices[:1] if self.closed else ())
        for start, end in zip(self.vertices, ends, strict=False):
            yield Segment(start.point, end.point, start.bulge)


def polyline(points: Iterable[tuple[Number, Number]], closed: bool) -> Path:
    """Return the path of straight lines through *points*."""
    return Path(tuple(Vertex(x, y) for x, y in points), closed)


def line(start: tuple[Number, Number], end: tuple[Number, Number]) -> Path:
    """Return the open path of one straight line."""
    return polyline([start, end], closed=False)


def rectangle(left: Number, bottom: Number, right: Number, top: Number) -> Path:
    """Return the upright rectangle, counter-clockwise from its lower left corner."""
    return polyline([(left, bottom), (right, bottom), (right, top), (left, top)], closed=True)


def circle(centre: tuple[Number, Number], radius: Number) -> Path:
    """Return the circle as two half arcs, counter-clockwise."""
    x, y = centre
    half = Fraction(1)
    return Path((Vertex(x - radius, y, half), Vertex(x + radius, y, half)))


def mapped(path: Path, place: Callable[[Point], Point], turns_over: bool) -> Path:
    """Return *path* with every vertex moved by the isometry *place*.

    A mirroring isometry (*turns_over*) turns counter-clockwise into clockwise:
    bulges change sign, and a closed path is run the other way so that exteriors
    stay counter-clockwise.
    """
    sign = -1 if turns_over else 1
    moved = tuple(
        Vertex(*place(vertex.point), sign * vertex.bulge if vertex.bulge else vertex.bulge)
        for vertex in path.vertices
    )
    result = Path(moved, path.closed)
    return reversed_path(result) if turns_over and path.closed else result


def translated(path: Path, dx: Number, dy: Number) -> Path:
    """Return *path* moved by (*dx*, *dy*)."""
    moved = (Vertex(v.x + dx, v.y + dy, v.bulge) for v in path.vertices)
    return Path(tuple(moved), path.closed)


def path_in_floats(path: Path) -> Path:
    """Return *path* with floats in place of fractions.

    >>> path_in_floats(line((Fraction(1, 4), 0), (0, 1))).points
    (Point(x=0.25, y=0.0), Point(x=0.0, y=1.0))
    """
    vertices = (Vertex(float(v.x), float(v.y), float(v.bulge)) for v in path.vertices)
    return Path(tuple(vertices), path.closed)


def reversed_path(path: Path) -> Path:
    """Return *path* run the other way; a closed one keeps its first vertex."""
    points = path.points
    bulges = [vertex.bulge for vertex in path.vertices]
    count = len(points)
    if path.closed:
        order = [(-i) % count for i in range(count)]
        leaving = [bulges[(i - 1) % count] for i in order]
    else:
        order = list(range(count - 1, -1, -1))
        leaving = [bulges[i - 1] for i in order[:-1]] + [Fraction(0)]
    return Path(
        tuple(
            Vertex(*points[i], -bulge if bulge else bulge)
            for i, bulge in zip(order, leaving, strict=True)
        ),
        path.closed,
    )


def arc_of(segment: Segment) -> Arc:
    """Return centre, radius and angles of an arc segment (bulge not 0)."""
    (x0, y0), (x1, y1) = segment.start, segment.end
    bulge = float(segment.bulge)
    dx, dy = float(x1 - x0), float(y1 - y0)
    lift = (1 - bulge * bulge) / (4 * bulge)
    cx, cy = float(x0) + dx / 2 - lift * dy, float(y0) + dy / 2 + lift * dx
    radius = math.hypot(dx, dy) * (1 + bulge * bulge) / (4 * abs(bulge))
    start = math.atan2(float(y0) - cy, float(x0) - cx)
    return Arc(Point(cx, cy), radius, start, 4 * math.atan(bulge))


def bulge_through(start: Point, middle: Point, end: Point) -> Number:
    """Return the bulge of the arc from *start* through *middle* to *end*.

    The inscribed angle at *middle* is the half of the arc that it does not lie
    on (Euclid, Elements III.20), so the bulge is the tangent of half of what
    that angle lacks to 180 degrees.
    """
    ax, ay = float(start.x - middle.x), float(start.y - middle.y)
    bx, by = float(end.x - middle.x), float(end.y - middle.y)
    turn = math.atan2(ay * bx - ax * by, ax * bx + ay * by)
    lacking = math.copysign(math.pi, turn) - turn
    return 0.0 if abs(lacking) < 1e-12 else math.tan(lacking / 2)


def magnitude(value: Number) -> Number:
    """Return the absolute value, exact where *value* is."""
    return value if value >= 0 else -value


def distance(a: Point, b: Point) -> Number:
    """Return the distance from *a* to *b*, mm; exact on a level or upright line."""
    dx, dy = magnitude(b.x - a.x), magnitude(b.y - a.y)
    return math.hypot(dx, dy) if dx and dy else dx + dy


def signed_area(path: Path) -> Number:
    """Return the area inside a closed path, mm2; positive when counter-clockwise.

    Polygon area plus, per arc, the circular segment r2 (a - sin a) / 2.
    """
    twice: Number = Fraction(0)
    for start, end, bulge in path.segments():
        twice += start.x * end.y - end.x * start.y
        if bulge:
            arc = arc_of(Segment(start, end, bulge))
            twice += arc.radius**2 * (arc.sweep - math.sin(arc.sweep))
    return twice / 2


def length_of(path: Path) -> float:
    """Return the length of *path* along its lines and arcs, mm."""
    return sum(segment_length(segment) for segment in path.segments())


def segment_length(segment: Segment) -> float:
    """Return the length of one line or arc, mm."""
    if segment.bulge:
        arc = arc_of(segment)
        return arc.radius * abs(arc.sweep)
    (x0, y0), (x1, y1), _ = segment
    return math.hypot(x1 - x0, y1 - y0)


def flattened(path: Path, sagitta: float = 0.01) -> list[tuple[float, float]]:
    """Return the vertices of *path* with arcs as chords no farther off than *sagitta* (mm)."""
    points: list[tuple[float, float]] = []
    for segment in path.segments():
        points.append((float(segment.start.x), float(segment.start.y)))
        if segment.bulge:
            points.extend(_chord_points(arc_of(segment), sagitta))
    if not path.closed and path.vertices:
        points.append((float(path.vertices[-1].x), float(path.vertices[-1].y)))
    return points


def _chord_points(arc: Arc, sagitta: float) -> Iterator[tuple[float, float]]:
    """Yield the inner points of *arc* (its ends left out)."""
    reach = 1 - min(sagitta / arc.radius, 1) if arc.radius else 0.0
    step = max(2 * math.acos(max(reach, 0.0)), 1e-3)
    count = max(math.ceil(abs(arc.sweep) / step), 2)
    for i in range(1, count):
        yield arc_point(arc, i / count)


def arc_point(arc: Arc, share: float) -> tuple[float, float]:
    """Return the point at *share* (0 to 1) of the way along *arc*."""
    angle = arc.start_angle + share * arc.sweep
    return (
        arc.centre.x + arc.radius * math.cos(angle),
        arc.centre.y + arc.radius * math.sin(angle),
    )


def bounds_of(paths: Iterable[Path]) -> Bounds:
    """Return the rectangle around *paths*, arcs at their true extent.

    An arc that only touches the rectangle of the vertices leaves it exact.
    """
    paths = tuple(paths)
    vertices = [vertex for path in paths for vertex in path.vertices]
    if not vertices:
        return Bounds(Fraction(0), Fraction(0), Fraction(0), Fraction(0))
    xs, ys = [vertex.x for vertex in vertices], [vertex.y for vertex in vertices]
    box = Bounds(min(xs), min(ys), max(xs), max(ys))
    bends = [point for path in paths for point in _bend_points(path)]
    if not bends:
        return box
    bent_xs, bent_ys = [x for x, _ in bends], [y for _, y in bends]
    return Bounds(
        _lower(box.left, min(bent_xs)),
        _lower(box.bottom, min(bent_ys)),
        -_lower(-box.right, -max(bent_xs)),
        -_lower(-box.top, -max(bent_ys)),
    )


def _lower(exact: Number, bent: float) -> Number:
    """Return the lower of both; *exact* where only rounding can tell them apart."""
    return exact if bent >= float(exact) - 1e-9 else bent


def _bend_points(path: Path) -> Iterator[tuple[float, float]]:
    if any(vertex.bulge for vertex in path.vertices):
        for segment in path.segments():
            if segment.bulge:
                yield from _quadrant_points(arc_of(segment))


def _quadrant_points(arc: Arc) -> Iterator[tuple[float, float]]:
    """Yield where *arc* passes the east, north, west and south of its circle."""
    low, high = sorted((arc.start_angle, arc.start_angle + arc.sweep))
    for quarter in range(math.ceil(low / (math.pi / 2)), math.floor(high / (math.pi / 2)) + 1):
        dx, dy = ((1, 0), (0, 1), (-1, 0), (0, -1))[quarter % 4]
        yield arc.centre.x + dx * arc.radius, arc.centre.y + dy * arc.radius


def joined_bounds(boxes: Sequence[Bounds]) -> Bounds:
    """Return the rectangle around all *boxes* (at least one)."""
    return Bounds(
        min(box.left for box in boxes),
        min(box.bottom for box in boxes),
        max(box.right for box in boxes),
        max(box.top for box in boxes),
    )


def nearest_between(
    start: tuple[float, float], end: tuple[float, float], point: tuple[float, float]
) -> tuple[float, float]:
    """Return the place on the straight line from *start* to *end* that is nearest to *point*.

    >>> nearest_between((0, 0), (4, 0), (3, 2)), nearest_between((0, 0), (4, 0), (7, 2))
    ((3.0, 0.0), (4.0, 0.0))
    """
    dx, dy = end[0] - start[0], end[1] - start[1]
    square = dx * dx + dy * dy
    along = ((point[0] - start[0]) * dx + (point[1] - start[1]) * dy) / square if square else 0.0
    share = min(max(along, 0.0), 1.0)
    return start[0] + share * dx, start[1] + share * dy


def encloses(path: Path, point: tuple[Number, Number]) -> bool:
    """Return whether *point* lies inside a closed *path* (even-odd rule; the border is either)."""
    return is_among(flattened(path), point)


def is_among(corners: Sequence[tuple[float, float]], point: tuple[Number, Number]) -> bool:
    """Return whether *point* lies inside the polygon of *corners*, by the same rule."""
    x, y = float(point[0]), float(point[1])
    inside = False
    for (x0, y0), (x1, y1) in zip(corners, [*corners[1:], *corners[:1]], strict=True):
        if (y0 > y) != (y1 > y) and x < x0 + (x1 - x0) * (y - y0) / (y1 - y0):
            inside = not inside
    return inside
