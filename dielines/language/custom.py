"""A part of free shape: an outline by points and arcs, lines that part it, points that name it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction
from typing import Any

from ..documents import Place, Refusal, beneath
from ..fields import Kind, is_kind, name_of_kind
from ..paths import Path, Point
from .arrangement import Face, crossing_of_itself, faces_of
from .cellmap import shown
from .expressions import Scope, size_of
from .points import PointReader, closed_vertices, pair_of, read_vertices
from .row_cells import refuse_no_name
from .shapes import Shape, shape_from_path
from .work import Work

_MEETING = 12  #: what a place costs where two lines meet
_BESIDE = Fraction(1, 1000)  #: mm; nearer to a line a point does not say which side is meant


def read_custom(
    place: Place, table: Mapping[str, Any], scope: Scope, work: Work
) -> dict[str, Shape] | None:
    """Return the panels of a custom part; None when faults were reported."""
    before = len(place.document.faults)
    outline = _outline(place / "outline", table.get("outline", []), scope)
    lines = [
        _line(place / "lines" / name, raw, scope) for name, raw in table.get("lines", {}).items()
    ]
    names = _names(place / "panels", table.get("panels", {}), scope)
    if outline is None or len(place.document.faults) > before:
        return None
    paths = [path for path in lines if path is not None]
    count = sum(len(path.vertices) for path in (outline, *paths))
    work.spend(count * count / 100)
    faces = faces_of(outline, paths, lambda: work.spend(_MEETING))
    work.spend(len(faces) * len(names) / 2)
    shapes = _named_faces(place / "panels", faces, names)
    return shapes if len(place.document.faults) == before else None


def _outline(place: Place, entries: object, scope: Scope) -> Path | None:
    with place.collecting():
        outline = Path(tuple(closed_vertices(entries, point_reader(scope))))
        crossing = crossing_of_itself(outline)
        if crossing:
            at = ", ".join(shown(value, scope).rsplit(" ", 1)[0] for value in crossing)
            raise Refusal("crossed-outline", f"the outline crosses itself at ({at})")
        return outline
    return None


def _line(place: Place, raw: object, scope: Scope) -> Path | None:
    with place.collecting():
        return Path(tuple(read_vertices(raw, point_reader(scope))), closed=False)
    return None


def point_reader(scope: Scope) -> PointReader:
    """Return what reads [x, y] from the lower left; raises Refusal."""

    def read(raw: list[object]) -> Point:
        x, y = (_coordinate(value, index, scope) for index, value in enumerate(raw))
        return Point(x, y)

    return read


def _coordinate(raw: object, index: int, scope: Scope) -> Fraction:
    with beneath(index):
        if not is_kind(raw, Kind.SIZE):
            raise Refusal("wrong-kind", f"expected a size, got {name_of_kind(raw)}")
        return size_of(raw, scope)  # type: ignore[arg-type]


def _names(place: Place, table: Mapping[str, Any], scope: Scope) -> dict[str, Point]:
    names = {}
    for name, raw in table.items():
        with (place / name).collecting():
            refuse_no_name(name)
            names[name] = pair_of(raw, point_reader(scope))
    return names


def _named_faces(
    place: Place, faces: Sequence[Face], names: Mapping[str, Point]
) -> dict[str, Shape]:
    shapes: dict[str, Shape] = {}
    left = list(faces)
    for name, point in names.items():
        face = next((face for face in left if face.holds(point)), None)
        if face is None or _lies_on_border(face, point):
            (place / name).report("no-face", "this point lies on no panel, or on one named before")
        else:
            left.remove(face)
            shapes[name] = shape_from_path(name, face.outline, face.holes)
    if left and len(shapes) == len(names):
        told = f"the lines make {len(faces)} panels, {len(shapes)} are named"
        place.report_key("unnamed-face", told, "Name each by a point inside it.")
    return shapes


def _lies_on_border(face: Face, point: Point) -> bool:
    """Return whether *point* lies on the border of *face*, so that it does not say which is meant."""
    x, y = point
    around = [(x - _BESIDE, y), (x + _BESIDE, y), (x, y - _BESIDE), (x, y + _BESIDE)]
    return not all(face.holds(place) for place in around)
