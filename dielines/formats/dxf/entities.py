"""DXF entities as paths: lines and arcs stay exact, other curves become chords.

Points of planar entities are in the entity's own plane (DXF Reference, "Object
coordinate systems"). A plane that faces up or down keeps arcs exact; anything
tilted is seen from above, as chords.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Mapping
from typing import Any

from ...paths import Path, Vertex
from .library import Entity

SAGITTA = 0.01  #: mm; how far chords may be off the curve
FARTHEST = 1e9  #: mm from the origin; a float is good to a tenth of a micrometre there
LARGEST_BULGE = 1e6  #: a circle but for a millionth of its radius
SMALLEST_BULGE = 1e-12  #: less is straight: no arc that long would be a nanometre off
MOST_CHORDS_ACROSS = 100_000  #: a curve of absurd size gets a coarser sagitta
MAX_DEGREE = 25
MAX_CONTROL_POINTS = 20_000

_SPLINE_FRAME = 16  # flag of a vertex that only steers the curve (DXF Reference, VERTEX, group 70)


class Unreadable(Exception):
    """An entity that gives no path; the text is the reason as a code."""


def path_of(entity: Entity, mm_per_unit: float) -> Path:
    """Return the path of *entity* in mm; raises Unreadable.

    What the library cannot make sense of raises its own errors.
    """
    reader = READERS.get(entity.dxftype())
    if reader is None:
        raise Unreadable("kind")
    vertices, closed = reader(entity, SAGITTA / mm_per_unit)
    if len(vertices) < 2:
        raise Unreadable("degenerate")
    return Path(tuple(_vertex(*numbers, mm_per_unit) for numbers in vertices), closed)


def _vertex(x: float, y: float, bulge: float, scale: float) -> Vertex:
    """Return the vertex in mm; raises Unreadable for one that is out of all bounds."""
    x, y, bulge = float(x) * scale, float(y) * scale, float(bulge)
    # Written so that what is no number fails.
    if not (abs(x) <= FARTHEST and abs(y) <= FARTHEST and abs(bulge) <= LARGEST_BULGE):
        raise Unreadable("too-far")
    return Vertex(x, y, bulge if abs(bulge) > SMALLEST_BULGE else 0.0)


Vertices = tuple[list[tuple[float, float, float]], bool]


def _line(entity: Entity, _sagitta: float) -> Vertices:
    start, end = entity.dxf.start, entity.dxf.end
    return [(start.x, start.y, 0.0), (end.x, end.y, 0.0)], False


def _arc(entity: Entity, sagitta: float) -> Vertices:
    dxf = entity.dxf
    if not dxf.radius > 0:
        raise Unreadable("degenerate")
    sweep = math.radians((dxf.end_angle - dxf.start_angle) % 360 or 360)
    return _placed(entity, _arc_vertices(dxf, math.radians(dxf.start_angle), sweep), False, sagitta)


def _arc_vertices(dxf: Any, start: float, sweep: float) -> list[tuple[float, float, float]]:
    """Return one arc, or two halves of one that is more than half a circle."""
    pieces = 1 if sweep <= math.pi * (1 + 1e-9) else 2
    bulge = math.tan(sweep / pieces / 4)
    angles = (start + sweep * i / pieces for i in range(pieces + 1))
    x, y, radius = dxf.center.x, dxf.center.y, dxf.radius
    return [(x + radius * math.cos(a), y + radius * math.sin(a), bulge) for a in angles]


def _circle(entity: Entity, sagitta: float) -> Vertices:
    x, y, radius = entity.dxf.center.x, entity.dxf.center.y, entity.dxf.radius
    if not radius > 0:
        raise Unreadable("degenerate")
    return _placed(entity, [(x - radius, y, 1.0), (x + radius, y, 1.0)], True, sagitta)


def _lwpolyline(entity: Entity, sagitta: float) -> Vertices:
    return _placed(entity, list(entity.get_points("xyb")), bool(entity.closed), sagitta)


def _polyline(entity: Entity, sagitta: float) -> Vertices:
    if entity.is_poly_face_mesh or entity.is_polygon_mesh:
        raise Unreadable("kind")
    vertices = [
        (*vertex.dxf.location.vec2, vertex.dxf.get("bulge", 0.0))
        for vertex in entity.vertices
        if not vertex.dxf.get("flags", 0) & _SPLINE_FRAME
    ]
    if entity.is_3d_polyline:
        return [(x, y, 0.0) for x, y, _ in vertices], bool(entity.is_closed)
    return _placed(entity, vertices, bool(entity.is_closed), sagitta)


def _ellipse(entity: Entity, sagitta: float) -> Vertices:
    size = entity.dxf.major_axis.magnitude
    if not (0 < size < math.inf and 0 < abs(entity.dxf.ratio) < math.inf):
        raise Unreadable("degenerate")
    points = entity.flattening(_bounded(sagitta, size), segments=8)
    turn = abs(entity.dxf.end_param - entity.dxf.start_param) % math.tau
    return _chords(points, closed=min(turn, math.tau - turn) < 1e-9)


def _spline(entity: Entity, sagitta: float) -> Vertices:
    points = entity.control_points if len(entity.control_points) else entity.fit_points
    if len(points) > MAX_CONTROL_POINTS or entity.dxf.degree > MAX_DEGREE:
        raise Unreadable("too-large")
    size = max((abs(float(value)) for point in points for value in point), default=0.0)
    if not size < math.inf:
        raise Unreadable("degenerate")
    chords = list(entity.flattening(_bounded(sagitta, size), segments=4))
    if len(chords) < 2:
        raise Unreadable("degenerate")
    return _chords(chords, bool(entity.closed) or chords[0].isclose(chords[-1], abs_tol=sagitta))


def _bounded(sagitta: float, size: float) -> float:
    """Return the sagitta, halved for the library checks the middle of a chord only."""
    return max(sagitta / 2, size / MOST_CHORDS_ACROSS)


def _chords(points: Iterable[Any], closed: bool) -> Vertices:
    vertices = [(point.x, point.y, 0.0) for point in points]
    return (vertices[:-1] if closed else vertices), closed


def _placed(
    entity: Entity, vertices: list[tuple[float, float, float]], closed: bool, sagitta: float
) -> Vertices:
    """Return *vertices*, which lie in the entity's own plane, as they are seen from above."""
    if not entity.dxf.hasattr("extrusion"):
        return vertices, closed
    x, y, z = entity.dxf.extrusion.normalize()
    if abs(x) > 1e-9 or abs(y) > 1e-9:
        return _tilted(entity, closed, sagitta)
    if z > 0:
        return vertices, closed
    return [(-x, y, -bulge) for x, y, bulge in vertices], closed


def _tilted(entity: Entity, closed: bool, sagitta: float) -> Vertices:
    from ezdxf.path import make_path

    path = make_path(entity)
    size = max((abs(value) for point in path.control_vertices() for value in point), default=0.0)
    if not size < math.inf:
        raise Unreadable("degenerate")
    points = list(path.flattening(_bounded(sagitta, size)))
    return _chords(points, closed and len(points) > 2 and points[0].isclose(points[-1]))


READERS: Mapping[str, Callable[[Any, float], Vertices]] = {
    "LINE": _line,
    "ARC": _arc,
    "CIRCLE": _circle,
    "ELLIPSE": _ellipse,
    "SPLINE": _spline,
    "LWPOLYLINE": _lwpolyline,
    "POLYLINE": _polyline,
}
