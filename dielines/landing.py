"""Where things land once a part is folded: a notch on the next layer, a tape zone on its target.

A path is carried from one panel through its pose into the flat coordinates of
another panel, then held against that panel's outline.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from typing import Any, NamedTuple

from .part import Side, Zone
from .paths import (
    Bounds,
    Number,
    Path,
    Point,
    bounds_of,
    encloses,
    flattened,
    mapped,
    polyline,
    signed_area,
)
from .rigid import Pose, relative

Shape = Any
"""A shapely geometry; shapely is loaded where a shape is needed, never with this module."""

Flat = tuple[float, float]

#: Sine of the angle up to which two panels count as parallel; floats of a folded part stay below 1e-12.
PARALLEL = 1e-9

#: Heights (mm) up to this share one plane.
IN_PLANE = 1e-6

#: How far (mm) a path may stick out and still lie within: as far as a file may deviate from its part.
TOLERANCE = Fraction(1, 1000)


@dataclass(frozen=True, slots=True)
class Landed:
    """A path of one panel in the flat coordinates of another, dropped along that one's normal.

    *low* and *high* are its heights above the target's face, mm, below 0 on the
    reverse; equal where the panels are parallel. Without that, arcs became chords.
    """

    path: Path
    low: Number
    high: Number
    is_parallel: bool
    is_turned_over: bool  #: the two faces look to opposite sides

    @property
    def distance(self) -> Number:
        """The height of what lies farthest from the target's plane."""
        return self.high if self.high >= -self.low else self.low


def land(pose_from: Pose, pose_to: Pose, path: Path) -> Landed:
    """Return where *path*, drawn on the panel at *pose_from*, lies on the panel at *pose_to*."""
    motion = relative(pose_to, pose_from)
    is_parallel = all(abs(float(slope)) <= PARALLEL for slope in motion.rotation[2][:2])
    flat = path if is_parallel else polyline(_points(path), path.closed)
    heights = [motion.at(point)[2] for point in flat.points]
    if is_parallel:
        heights = heights[:1]
    is_turned_over = motion.rotation[2][2] < 0
    dropped = mapped(flat, lambda point: Point(*motion.at(point)[:2]), is_turned_over)
    return Landed(dropped, min(heights), max(heights), is_parallel, is_turned_over)


def _points(path: Path) -> Sequence[tuple[Number, Number]]:
    """Return the vertices, exact where the path has no arcs."""
    has_arcs = any(vertex.bulge for vertex in path.vertices)
    return flattened(path, float(TOLERANCE)) if has_arcs else path.points


class Overhang(NamedTuple):
    """How much of a path sticks out: *area* in mm2, and the largest *distance* in mm."""

    area: Number
    distance: Number

    @property
    def is_inside(self) -> bool:
        """Whether nothing sticks out."""
        return not self.area and not self.distance


NOTHING = Overhang(Fraction(0), Fraction(0))


def overhang_of(
    path: Path, outline: Path, holes: Sequence[Path] = (), tolerance: Number = TOLERANCE
) -> Overhang:
    """Return what of *path* lies outside of *outline* or over its *holes*; exactly 0 when inside.

    Exact for rectangles; otherwise arcs are chords whose error stays below
    *tolerance* (mm). The distance is that of the farthest corner or, where a hole
    or a bay is covered, of the middle of the largest circle in it.
    """
    frame = None if holes else rectangle_of(outline)
    if frame is not None:
        around = bounds_of([path])
        if max(_excesses(around, frame)) <= tolerance:
            return NOTHING
        if path.closed and rectangle_of(path) is not None:
            return _overhang_of_rectangles(around, frame)
    if _is_clearly_inside(path, [outline, *holes]):
        return NOTHING
    return _overhang_of_shapes(path, outline, holes, float(tolerance))


def _is_clearly_inside(path: Path, rings: Sequence[Path]) -> bool:
    """Return whether *path* lies inside the first of *rings*, outside the others, touching none.

    Spares loading the geometry library for the usual zone on a notched panel.
    """
    corners = flattened(path, float(TOLERANCE))
    edges = list(zip(corners, corners[1:] + corners[:1], strict=True)) if path.closed else []
    edges = edges or list(pairwise(corners))
    borders = [flattened(ring, float(TOLERANCE)) for ring in rings]
    if any(_cross(a, b, c, d) for a, b in edges for ring in borders for c, d in _sides(ring)):
        return False
    if not encloses(rings[0], corners[0]):
        return False
    holes = zip(rings[1:], borders[1:], strict=True)
    return not any(encloses(hole, corners[0]) or encloses(path, ring[0]) for hole, ring in holes)


def _sides(ring: Sequence[Flat]) -> Iterator[tuple[Flat, Flat]]:
    return pairwise([*ring, ring[0]])


def _cross(a: Flat, b: Flat, c: Flat, d: Flat) -> bool:
    """Return whether the segments a-b and c-d come within a thousandth of a mm of crossing."""
    margin = float(TOLERANCE)
    for i in (0, 1):
        if max(a[i], b[i]) + margin < min(c[i], d[i]) or max(c[i], d[i]) + margin < min(a[i], b[i]):
            return False
    sides = [_beside(a, b, c), _beside(a, b, d)], [_beside(c, d, a), _beside(c, d, b)]
    return all(min(pair) <= margin and max(pair) >= -margin for pair in sides)


def _beside(a: Flat, b: Flat, point: Flat) -> float:
    """Return how far *point* lies left of the line from *a* to *b*, mm."""
    dx, dy = b[0] - a[0], b[1] - a[1]
    length = math.hypot(dx, dy) or 1.0
    return (dx * (point[1] - a[1]) - dy * (point[0] - a[0])) / length


def rectangle_of(path: Path) -> Bounds | None:
    """Return the bounds of a path that is an upright rectangle, else None."""
    if len(path.vertices) != 4 or not path.closed or any(v.bulge for v in path.vertices):
        return None
    box = bounds_of([path])
    corners = {(x, y) for x in (box.left, box.right) for y in (box.bottom, box.top)}
    is_upright = all((s.start.x == s.end.x) != (s.start.y == s.end.y) for s in path.segments())
    return box if is_upright and set(path.points) == corners else None


def _excesses(inner: Bounds, outer: Bounds) -> tuple[Number, Number]:
    """Return how far *inner* sticks out across and up; 0 or less when it does not."""
    return (
        max(outer.left - inner.left, inner.right - outer.right),
        max(outer.bottom - inner.bottom, inner.top - outer.top),
    )


def _overhang_of_rectangles(inner: Bounds, outer: Bounds) -> Overhang:
    across = min(inner.right, outer.right) - max(inner.left, outer.left)
    up = min(inner.top, outer.top) - max(inner.bottom, outer.bottom)
    shared = max(across, 0) * max(up, 0)
    out_across, out_up = (max(excess, Fraction(0)) for excess in _excesses(inner, outer))
    is_straight = not (out_across and out_up)
    distance = out_across + out_up if is_straight else math.hypot(out_across, out_up)
    return Overhang(inner.width * inner.height - shared, distance)


def _overhang_of_shapes(
    path: Path, outline: Path, holes: Sequence[Path], tolerance: float
) -> Overhang:
    sagitta = max(tolerance / 2, 1e-6)
    target = _shape(outline, sagitta)
    for hole in holes:
        target = target.difference(_shape(hole, sagitta))
    shape = _shape(path, sagitta)
    if shape.difference(target.buffer(tolerance)).is_empty:
        return NOTHING
    outside = shape.difference(target)
    return Overhang(outside.area, max(_distances(outside, target), default=0.0))


def _shape(path: Path, sagitta: float) -> Shape:
    from shapely import LineString, Polygon, make_valid

    points = flattened(path, sagitta)
    shape = Polygon(points) if path.closed else LineString(points)
    return shape if shape.is_valid else make_valid(shape)


def _distances(outside: Shape, target: Shape) -> Iterator[float]:
    """Yield the distances from *target* of the places where they can be largest."""
    from shapely import Point, get_coordinates, get_parts, maximum_inscribed_circle

    yield from (target.distance(Point(place)) for place in get_coordinates(outside))
    for piece in get_parts(outside):
        if piece.area > float(TOLERANCE) ** 2:
            yield target.distance(Point(maximum_inscribed_circle(piece).coords[0]))


@dataclass(frozen=True, slots=True)
class Landing:
    """Where a tape zone lies once its part is folded.

    *faces* is the side of the target that the tape looks at by its direction alone
    (None when the panels stand upright on each other). *is_facing* is whether it
    looks towards the target, not away; None where both share a plane: rigid
    folding without thickness cannot tell then, the order of layers must.
    """

    zone: str
    onto: str
    share: Number  #: of the zone's area that lies on the target, 0 to 1
    overhang: Overhang
    distance: Number  #: above the target's face, mm; below 0 on its reverse
    faces: Side | None
    is_parallel: bool
    is_facing: bool | None


def landings(
    zones: Iterable[Zone],
    panels: Mapping[str, Path],
    placed: Mapping[str, Pose],
    holes: Mapping[str, Sequence[Path]] | None = None,
) -> list[Landing]:
    """Return where each zone lands whose target is a panel of the same part."""
    return [landing_of(zone, panels, placed, holes) for zone in zones if zone.onto in panels]


def landing_of(
    zone: Zone,
    panels: Mapping[str, Path],
    placed: Mapping[str, Pose],
    holes: Mapping[str, Sequence[Path]] | None = None,
) -> Landing:
    """Return where *zone* lands on ``zone.onto``; *panels*, poses and *holes* are by panel."""
    landed = land(placed[zone.panel], placed[zone.onto], zone.path)
    area = _magnitude(signed_area(zone.path))
    if landed.is_parallel:
        overhang = overhang_of(landed.path, panels[zone.onto], (holes or {}).get(zone.onto, ()))
    else:
        overhang = Overhang(area, _magnitude(landed.distance))
    faces = _side_faced(zone, placed)
    return Landing(
        zone=zone.name,
        onto=zone.onto,
        share=_share(overhang, area),
        overhang=overhang,
        distance=landed.distance,
        faces=faces,
        is_parallel=landed.is_parallel,
        is_facing=_is_facing(landed.distance, faces),
    )


def _share(overhang: Overhang, area: Number) -> Number:
    """Return the share of *area* that does not stick out; rounding never makes it negative."""
    inside = area - overhang.area
    return inside / area if inside > 0 else Fraction(0)


def _magnitude(value: Number) -> Number:
    return max(value, -value)


def _side_faced(zone: Zone, placed: Mapping[str, Pose]) -> Side | None:
    """Return the side of the target whose outward normal is opposite to where the tape looks."""
    up = relative(placed[zone.onto], placed[zone.panel]).rotation[2][2]
    if abs(float(up)) <= PARALLEL:
        return None
    looks_up = (up > 0) == (zone.side is Side.FACE)
    return Side.REVERSE if looks_up else Side.FACE


def _is_facing(distance: Number, faces: Side | None) -> bool | None:
    if faces is None or abs(float(distance)) <= IN_PLANE:
        return None
    return (distance > 0) == (faces is Side.FACE)
