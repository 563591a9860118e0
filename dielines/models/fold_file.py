"""FOLD files: written for other programs to fold, and read back with bounds on everything.

Source: FOLD specification 1.2 (github.com/edemaine/fold, doc/spec.md). Keys of our
own carry a colon, as it asks: ``faces_dielines:panel``, ``edges_dielines:line``.
"""

from __future__ import annotations

import json
import math
from collections.abc import Callable, Mapping, Sequence
from typing import Any

from ..errors import Fault, ForeignFileError
from .fold_frames import ASSIGNMENTS, FoldFile, FoldFrame

MAX_BYTES = 5_000_000
MAX_DEPTH = 8  #: of lists and tables within each other; a file of frames needs 5
MAX_FRAMES = 1_000
MAX_ENTRIES = 100_000  #: of any list
MAX_NUMBER = 1e9
MAX_TEXT = 10_000
MAX_FAULTS = 20

PANELS, LINES = "faces_dielines:panel", "edges_dielines:line"


def write_fold(model: FoldFile) -> bytes:
    """Return *model* as the content of a FOLD file; the same model gives the same bytes."""
    key, *others = model.frames
    head: dict[str, Any] = {
        "file_spec": model.spec,
        "file_creator": model.creator,
        "file_title": model.title,
        "file_description": model.description,
        "file_classes": list(model.classes),
    }
    head |= _table(key)
    if others:
        head["file_frames"] = [_table(frame) for frame in others]
    rows = (f"{json.dumps(name)}: {_text(value)}" for name, value in head.items())
    return ("{\n" + ",\n".join(rows) + "\n}\n").encode()


def _text(value: Any) -> str:
    return json.dumps(value, ensure_ascii=False, allow_nan=False, separators=(",", ":"))


def _table(frame: FoldFrame) -> dict[str, Any]:
    table: dict[str, Any] = {
        "frame_title": frame.title,
        "frame_classes": frame.classes,
        "frame_attributes": frame.attributes,
        "frame_unit": frame.unit,
        "vertices_coords": frame.vertices,
        "edges_vertices": frame.edges,
        "edges_assignment": frame.assignments,
        "edges_foldAngle": frame.angles_deg,
        LINES: frame.lines,
        "faces_vertices": frame.faces,
        PANELS: frame.panels,
        "faceOrders": frame.orders,
    }
    return {name: value for name, value in table.items() if value}


def read_fold(content: bytes, name: str) -> FoldFile:
    """Return what a FOLD file holds, each frame with all that it inherits.

    *name* is what messages call the file. Raises ForeignFileError with all that is
    wrong with it: too large, no JSON, numbers that are none, vertices or faces
    that there are not.
    """
    table = _parsed(content, name)
    faults = _Faults(name)
    frames = _frames(table, faults)
    found = FoldFile(
        title=_word(table, "file_title", faults),
        frames=tuple(_frame(frame, where, faults) for where, frame in frames),
        description=_word(table, "file_description", faults),
        classes=_words(table, "file_classes", "file", faults),
        creator=_word(table, "file_creator", faults),
        spec=_spec(table, faults),
    )
    faults.settle()
    return found


class _Faults:
    """What is wrong with the file, each with its place."""

    def __init__(self, name: str) -> None:
        self.name = name
        self.found: list[Fault] = []

    def add(self, where: str, code: str, message: str) -> None:
        if len(self.found) < MAX_FAULTS:
            self.found.append(Fault(self.name, 0, 0, where, code, message))

    def settle(self) -> None:
        if self.found:
            raise ForeignFileError(self.found)


def _parsed(content: bytes, name: str) -> dict[str, Any]:
    if len(content) > MAX_BYTES:
        raise ForeignFileError.of(name, "too-large", f"larger than {MAX_BYTES // 1_000_000} MB")
    if _depth(content) > MAX_DEPTH:
        raise ForeignFileError.of(name, "too-deep", f"lists nested deeper than {MAX_DEPTH}")
    try:
        table = json.loads(content.decode("utf-8-sig"), parse_int=_number, parse_float=_number)
    except (ValueError, RecursionError) as problem:
        message = str(problem)[:100]
        raise ForeignFileError.of(name, "not-json", f"no JSON: {message}") from problem
    if not isinstance(table, dict):
        raise ForeignFileError.of(name, "not-fold", "a FOLD file is one table of keys")
    return table


def _number(text: str) -> float | int:
    """Return a number; one with more digits than any length needs is none."""
    if len(text) > 40:
        raise ValueError(f"the number {text[:20]}... has too many digits")
    value = float(text)
    is_whole = value.is_integer() and abs(value) < 2**53 and not set(text) & set(".eE")
    return int(text) if is_whole else value


def _depth(content: bytes) -> int:
    """Return how deep brackets are nested, those in texts included, which is never too few."""
    depth = deepest = 0
    for sign in content:
        if sign in b"[{":
            depth += 1
            deepest = max(deepest, depth)
        elif sign in b"]}":
            depth -= 1
    return deepest


def _frames(table: dict[str, Any], faults: _Faults) -> list[tuple[str, dict[str, Any]]]:
    """Return each frame with all that it inherits, and what it is called in messages."""
    others = table.get("file_frames", [])
    if not isinstance(others, list) or len(others) > MAX_FRAMES:
        faults.add("file_frames", "bad-frames", f"no list of at most {MAX_FRAMES} frames")
        others = []
    frames = [table, *(frame if isinstance(frame, dict) else {} for frame in others)]
    for number, frame in enumerate(others, 1):
        if not isinstance(frame, dict):
            faults.add(f"frame {number}", "bad-frame", "a frame is a table of keys")
    return [
        (f"frame {number}" if number else "", _inherited(frames, number, faults))
        for number in range(len(frames))
    ]


def _inherited(frames: Sequence[Mapping[str, Any]], number: int, faults: _Faults) -> dict[str, Any]:
    """Return a frame with the keys of its parents that it does not have itself."""
    found: dict[str, Any] = {}
    passed: set[int] = set()
    while True:
        frame = frames[number]
        found = {**{key: value for key, value in frame.items() if _is_inner(key)}, **found}
        parent: Any = frame.get("frame_parent")
        if not number or frame.get("frame_inherit") is not True:
            return found
        passed.add(number)
        if not _is_index(parent, len(frames)) or parent in passed:
            faults.add(f"frame {number}", "bad-parent", "its parent is no frame of the file")
            return found
        number = parent


def _is_inner(key: str) -> bool:
    return not key.startswith("file_") and key not in ("frame_parent", "frame_inherit")


def _frame(table: Mapping[str, Any], where: str, faults: _Faults) -> FoldFrame:
    at = f"{where}: " if where else ""
    vertices = _rows(table, "vertices_coords", _coordinates, at, faults)
    corners = len(vertices)
    edges = _rows(table, "edges_vertices", _indices(corners, 2, 2), at, faults)
    faces = _rows(table, "faces_vertices", _indices(corners, 3, MAX_ENTRIES), at, faults)
    letters = _rows(table, "edges_assignment", _letter, at, faults)
    angles = _rows(table, "edges_foldAngle", _angle, at, faults)
    for key, rows in (("edges_assignment", letters), ("edges_foldAngle", angles)):
        if rows and len(rows) != len(edges):
            faults.add(f"{at}{key}", "wrong-length", f"{len(rows)} entries for {len(edges)} edges")
    return FoldFrame(
        vertices=vertices,
        edges=edges,
        assignments=letters,
        angles_deg=angles,
        faces=faces,
        orders=_rows(table, "faceOrders", _order(len(faces)), at, faults),
        title=_word(table, "frame_title", faults, at),
        classes=_words(table, "frame_classes", at, faults),
        attributes=_words(table, "frame_attributes", at, faults),
        unit=_word(table, "frame_unit", faults, at) or "unit",
        panels=_words(table, PANELS, at, faults),
        lines=_words(table, LINES, at, faults),
    )


Convert = Callable[[Any], Any]
"""What makes a value of an entry; raises ValueError with a reason."""


def _rows(
    table: Mapping[str, Any], key: str, convert: Convert, at: str, faults: _Faults
) -> tuple[Any, ...]:
    rows = table.get(key, [])
    if not isinstance(rows, list) or len(rows) > MAX_ENTRIES:
        faults.add(f"{at}{key}", "bad-list", f"no list of at most {MAX_ENTRIES:,} entries")
        return ()
    found = []
    for number, row in enumerate(rows):
        try:
            found.append(convert(row))
        except ValueError as problem:
            faults.add(f"{at}{key}[{number}]", "bad-entry", str(problem))
    return tuple(found)


def _is_number(value: Any) -> bool:
    is_number = isinstance(value, int | float) and not isinstance(value, bool)
    return is_number and math.isfinite(value) and abs(value) <= MAX_NUMBER


def _coordinates(row: Any) -> tuple[float, ...]:
    if not isinstance(row, list) or not 2 <= len(row) <= 3 or not all(map(_is_number, row)):
        raise ValueError("a vertex has two or three finite coordinates")
    return tuple(map(float, row))


def _is_index(value: Any, count: int) -> bool:
    return isinstance(value, int) and not isinstance(value, bool) and 0 <= value < count


def _indices(count: int, least: int, most: int) -> Convert:
    def convert(row: Any) -> tuple[int, ...]:
        if not isinstance(row, list) or not least <= len(row) <= most:
            raise ValueError(f"not {least} or more vertices")
        if not all(_is_index(value, count) for value in row):
            raise ValueError(f"a vertex that there is not; they count from 0 to {count - 1}")
        return tuple(row)

    return convert


def _letter(value: Any) -> str:
    if value not in ASSIGNMENTS:
        raise ValueError(f"none of {', '.join(ASSIGNMENTS)}")
    return str(value)


def _angle(value: Any) -> float:
    if value is None:
        return 0.0  # older files leave the angle of a border out
    if not _is_number(value) or abs(value) > 180:
        raise ValueError("no angle from -180 to 180")
    return float(value)


def _order(faces: int) -> Convert:
    def convert(row: Any) -> tuple[int, int, int]:
        if not isinstance(row, list) or len(row) != 3 or row[2] not in (-1, 0, 1):
            raise ValueError("no two faces and a side of -1, 0 or 1")
        if not (_is_index(row[0], faces) and _is_index(row[1], faces)):
            raise ValueError("a face that there is not")
        return row[0], row[1], int(row[2])

    return convert


def _word(table: Mapping[str, Any], key: str, faults: _Faults, at: str = "") -> str:
    value = table.get(key, "")
    if not isinstance(value, str) or len(value) > MAX_TEXT:
        faults.add(f"{at}{key}", "bad-text", f"no text of at most {MAX_TEXT:,} characters")
        return ""
    return value


def _words(table: Mapping[str, Any], key: str, at: str, faults: _Faults) -> tuple[str, ...]:
    rows = table.get(key, [])
    is_right = isinstance(rows, list) and len(rows) <= MAX_ENTRIES
    if not is_right or not all(isinstance(row, str) and len(row) <= MAX_TEXT for row in rows):
        faults.add(f"{at}{key}", "bad-list", "no list of texts")
        return ()
    return tuple(rows)


def _spec(table: Mapping[str, Any], faults: _Faults) -> float:
    value = table.get("file_spec", 1.2)
    if not _is_number(value) or not 1 <= value < 2:
        faults.add("file_spec", "bad-spec", "no version of FOLD 1")
        return 1.2
    return float(value)
