"""A part of free shape: an outline by points and arcs, lines that part it, points that name it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction
from typing import Any

from ..documents import Place, Refusal, beneath
from ..fields import Kind, is_kind, name_of_kind
from ..paths import Number, Path, Point, Vertex, bulge_through, encloses, line
from .arrangement import crossing_of_itself, faces_of
from .cellmap import shown
from .expressions import Scope, size_of
from .shapes import Shape, shape_from_path

MAX_POINTS = 400


def read_custom(place: Place, table: Mapping[str, Any], scope: Scope) -> dict[str, Shape] | None:
    """Return the panels of a custom part; None when faults were reported."""
    before = len(place.document.faults)
    outline = _outline(place / "outline", table.get("outline", []), scope)
    lines = [
        _line(place / "lines" / name, raw, scope) for name, raw in table.get("lines", {}).items()
    ]
    names = _names(place / "panels", table.get("panels", {}), scope)
    if outline is None or len(place.document.faults) > before:
        return None
    faces = faces_of(outline, [path for path in lines if path is not None])
    shapes = _named_faces(place / "panels", faces, names)
    return shapes if len(place.document.faults) == before else None


def _outline(place: Place, entries: object, scope: Scope) -> Path | None:
    with place.collecting():
        outline = Path(tuple(read_vertices(entries, scope, is_closed=True)))
        crossing = crossing_of_itself(outline)
        if crossing:
            at = ", ".join(shown(value, scope).rsplit(" ", 1)[0] for value in crossing)
            raise Refusal("crossed-outline", f"the outline crosses itself at ({at})")
        return outline
    return None


def _line(place: Place, raw: object, scope: Scope) -> Path | None:
    with place.collecting():
        return Path(tuple(read_vertices(raw, scope, is_closed=False)), closed=False)
    return None


def read_vertices(entries: object, scope: Scope, is_closed: bool) -> list[Vertex]:
    """Return vertices from [x, y] and ``{ through = [x, y], to = [x, y] }``; raises Refusal."""
    if not isinstance(entries, list) or len(entries) < 2:
        raise Refusal("bad-point", "expected a list of points [x, y]")
    if len(entries) > MAX_POINTS:
        raise Refusal("too-many", f"more than {MAX_POINTS} points")
    corners: list[tuple[Point, Number]] = []
    for index, entry in enumerate(entries):
        with beneath(index):
            if isinstance(entry, dict):
                corners = _with_arc(corners, entry, scope)
            else:
                corners.append((_point(entry, scope), Fraction(0)))
    if is_closed and len(corners) > 1 and corners[0][0] == corners[-1][0]:
        corners.pop()
    if len(corners) < 2 or (is_closed and len(corners) < 3 and not any(b for _, b in corners)):
        raise Refusal("bad-point", "too few points for an outline")
    return [Vertex(point.x, point.y, bulge) for point, bulge in corners]


def _with_arc(
    corners: list[tuple[Point, Number]], entry: dict[str, Any], scope: Scope
) -> list[tuple[Point, Number]]:
    if set(entry) != {"through", "to"} or not corners:
        raise Refusal("bad-point", "an arc is written { through = [x, y], to = [x, y] }")
    start = corners[-1][0]
    with beneath("through"):
        middle = _point(entry["through"], scope)
    with beneath("to"):
        end = _point(entry["to"], scope)
    return [*corners[:-1], (start, bulge_through(start, middle, end)), (end, Fraction(0))]


def _point(raw: object, scope: Scope) -> Point:
    if not isinstance(raw, list) or len(raw) != 2:
        raise Refusal("bad-point", "a point is written [x, y]")
    values = []
    for index, value in enumerate(raw):
        with beneath(index):
            if not is_kind(value, Kind.SIZE):
                raise Refusal("wrong-kind", f"expected a size, got {name_of_kind(value)}")
            values.append(size_of(value, scope))
    return Point(*values)


def _names(place: Place, table: Mapping[str, Any], scope: Scope) -> dict[str, Point]:
    names = {}
    for name, raw in table.items():
        with (place / name).collecting():
            names[name] = _point(raw, scope)
    return names


def _named_faces(
    place: Place, faces: Sequence[Path], names: Mapping[str, Point]
) -> dict[str, Shape]:
    shapes: dict[str, Shape] = {}
    left = list(faces)
    for name, point in names.items():
        face = next((face for face in left if encloses(face, point)), None)
        if face is None or _lies_on(face, point):
            (place / name).report("no-face", "this point lies on no panel, or on one named before")
        else:
            left.remove(face)
            shapes[name] = shape_from_path(name, face)
    if left:
        told = f"the lines make {len(faces)} panels, {len(shapes)} are named"
        place.report_key("unnamed-face", told, "Name each by a point inside it.")
    return shapes


def _lies_on(face: Path, point: Point) -> bool:
    """Return whether *point* lies on the border of *face*."""
    near = line((point.x - Fraction(1, 1000), point.y), (point.x + Fraction(1, 1000), point.y))
    return encloses(face, near.points[0]) != encloses(face, near.points[1])
