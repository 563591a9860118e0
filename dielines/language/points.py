"""Points and arcs as outlines and lines tell them: ``[x, y]`` and ``{ through = .., to = .. }``."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence

from ..documents import Refusal, beneath
from ..paths import Number, Point, Vertex, bulge_through
from .borders import key_of

MAX_POINTS = 400
#: arcs flatter or fuller than this have no true middle or radius any more
_LARGEST_BULGE = 1e4

#: reads one point, wherever its coordinates are measured from; raises Refusal
PointReader = Callable[[list[object]], Point]


def read_vertices(entries: object, read: PointReader) -> list[Vertex]:
    """Return the vertices of an open path, points that repeat left out; raises Refusal."""
    if not isinstance(entries, list) or len(entries) < 2:
        raise Refusal("bad-point", "expected a list of at least two points [x, y]")
    if len(entries) > MAX_POINTS:
        raise Refusal("too-many", f"more than {MAX_POINTS} points")
    vertices: list[Vertex] = []
    for index, entry in enumerate(entries):
        with beneath(index):
            if isinstance(entry, dict):
                vertices = _with_arc(vertices, entry, read)
            else:
                vertices = _with_point(vertices, pair_of(entry, read))
    if len(vertices) < 2:
        raise Refusal("bad-point", "all points are the same")
    return vertices


def closed_vertices(entries: object, read: PointReader) -> list[Vertex]:
    """Return the vertices of an outline, whose last point may repeat the first; raises Refusal."""
    vertices = read_vertices(entries, read)
    if _are_one(vertices[0].point, vertices[-1].point):
        vertices.pop()
    if len(vertices) < 3 and not any(vertex.bulge for vertex in vertices):
        raise Refusal("bad-point", "too few points for an outline")
    return vertices


def pair_of(entry: object, read: PointReader) -> Point:
    """Return the point that *entry* says; raises Refusal."""
    if not isinstance(entry, list) or len(entry) != 2:
        raise Refusal("bad-point", "a point is written [x, y]")
    return read(entry)


def arc_bulge(start: Point, middle: Point, end: Point) -> Number:
    """Return the bulge of the arc through three points; raises Refusal when there is none."""
    if len({key_of(point) for point in (start, middle, end)}) < 3:
        raise Refusal("bad-arc", "an arc needs three different points")
    bulge = bulge_through(start, middle, end)
    if math.fabs(bulge) > _LARGEST_BULGE:
        raise Refusal("bad-arc", "no arc goes through these points: its middle lies beyond its end")
    return bulge


def _with_point(vertices: Sequence[Vertex], point: Point) -> list[Vertex]:
    if vertices and _are_one(vertices[-1].point, point):
        return list(vertices)
    return [*vertices, Vertex(*point)]


def _with_arc(
    vertices: Sequence[Vertex], entry: dict[str, object], read: PointReader
) -> list[Vertex]:
    if set(entry) != {"through", "to"} or not vertices:
        raise Refusal("bad-point", "an arc is written { through = [x, y], to = [x, y] }")
    start = vertices[-1].point
    with beneath("through"):
        middle = pair_of(entry["through"], read)
    with beneath("to"):
        end = pair_of(entry["to"], read)
    return [*vertices[:-1], Vertex(*start, arc_bulge(start, middle, end)), Vertex(*end)]


def _are_one(a: Point, b: Point) -> bool:
    return key_of(a) == key_of(b)
