"""The map of a part: columns, rows and cells, resolved into panels.

``columns`` gives widths from left to right; each row is written ``"height :
cells"`` from top to bottom, a dot for what is cut away. The same word in
touching cells is one panel. A row or column of size 0 vanishes with its cells.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from ..documents import Place, Refusal
from ..fields import Field, Kind, checked, is_kind, name_of_kind
from ..lengths import show
from ..part import exact_length
from ..paths import Path, rectangle, signed_area
from .borders import borders_of, rings_of
from .expressions import Scope, size_of
from .repeats import repeated_scopes, turn_of
from .row_cells import AWAY, Block, cells_of, names_said
from .shapes import Shape, shape_from_path
from .work import Work, weight_of

MAX_CELLS = 4_000


@dataclass(frozen=True, slots=True)
class Row:
    """A resolved row: height, mm, and one name a column."""

    height: Fraction
    cells: tuple[str, ...]


@dataclass(frozen=True)
class CellMap:
    """Panels on the map, by name, and every name that the map knows, vanished ones too."""

    shapes: Mapping[str, Shape]
    known: frozenset[str]


def read_map(place: Place, table: Mapping[str, Any], scope: Scope, work: Work) -> CellMap | None:
    """Return the panels of the part described by *table*; None when faults were reported."""
    before = len(place.document.faults)
    blocks = list(_blocks(place / "columns", table.get("columns", []), scope, work))
    rows = _rows(place / "rows", table.get("rows", []), scope, blocks, work)
    if len(place.document.faults) > before:
        return None
    widths = [width for block in blocks for width in block.widths]
    if not widths or not rows:
        (place / "rows").report("empty-map", "the map has no cells")
        return None
    return _panels(place / "rows", widths, rows, names_said(table.get("rows")))


def _blocks(place: Place, entries: list[Any], scope: Scope, work: Work) -> Iterator[Block]:
    """Yield the entries of ``columns``; one with a fault keeps its place in the rows."""
    count = 0
    for index, entry in enumerate(entries):
        here = place / index
        block = Block((), 0, is_repeated=isinstance(entry, dict))
        with here.collecting():
            if isinstance(entry, dict):
                block = _repeated_block(here, entry, scope, work)
            else:
                block = Block((_extent(entry, scope),), 1, is_repeated=False)
        count += len(block.widths)
        if count > MAX_CELLS:
            here.report("too-many", f"more than {MAX_CELLS} columns")
            return
        yield block


COLUMN_REPEAT = (Field("repeat", Kind.SIZE, True), Field("columns", Kind.LIST, True))
ROW_REPEAT = (Field("repeat", Kind.SIZE, True), Field("rows", Kind.LIST, True))


def _repeated_block(place: Place, entry: dict[str, Any], scope: Scope, work: Work) -> Block:
    fields = checked(place, entry, COLUMN_REPEAT)
    if len(fields) < 2:
        return Block((), 0, is_repeated=True)
    columns = fields["columns"]
    if not columns:
        raise Refusal("empty-map", "nothing is said to repeat")
    turns = repeated_scopes(fields, scope)
    if len(turns) * len(columns) > MAX_CELLS:
        raise Refusal("too-many", f"more than {MAX_CELLS} columns")
    work.spend(len(turns) * weight_of(columns))
    widths = []
    for inner in turns:
        for index, raw in enumerate(columns):
            with (place / "columns" / index).collecting():
                widths.append(_extent(raw, inner))
    return Block(tuple(widths), len(columns), is_repeated=True)


def _extent(raw: object, scope: Scope) -> Fraction:
    """Return a width or height, mm; raises Refusal when it is no size or negative."""
    if not is_kind(raw, Kind.SIZE):
        raise Refusal("wrong-kind", f"expected a size, got {name_of_kind(raw)}")
    size = size_of(raw, scope)  # type: ignore[arg-type]
    if size < 0:
        raise Refusal("negative", f"comes out below zero: {shown(size, scope)}")
    return size


def shown(size: Fraction | float, scope: Scope) -> str:
    """Return a size as the template's author would read it."""
    return show(exact_length(size), scope.units or "mm", 32).removeprefix("≈ ")


def _rows(
    place: Place, entries: list[Any], scope: Scope, blocks: list[Block], work: Work
) -> list[Row]:
    """Return the rows from top to bottom; faults are reported."""
    rows: list[Row] = []
    for here, raw, inner in _row_texts(place, entries, scope):
        row = _row(here, raw, inner, blocks)
        rows += [row] if row else []
        with here.collecting():
            work.spend(weight_of(raw) + len(row.cells) if row else 1)
            if len(rows) * sum(len(block.widths) for block in blocks) > MAX_CELLS:
                raise Refusal("too-many", f"more than {MAX_CELLS} cells")
            continue
        break
    return rows


def _row_texts(
    place: Place, entries: list[Any], scope: Scope
) -> Iterator[tuple[Place, object, Scope]]:
    """Yield each row's place, what is written there, and the scope of its turn."""
    for index, entry in enumerate(entries):
        here = place / index
        if not isinstance(entry, dict):
            yield here, entry, scope
            continue
        fields = checked(here, entry, ROW_REPEAT)
        turns: list[Scope] = []
        with here.collecting():
            turns = repeated_scopes(fields, scope) if len(fields) == 2 else []
        for inner in turns:
            for row, raw in enumerate(fields["rows"]):
                yield here / "rows" / row, raw, inner


def _row(place: Place, raw: object, scope: Scope, blocks: list[Block]) -> Row | None:
    """Return a row; its height and its cells may both have faults, which are reported."""
    height, cells = None, None
    with place.collecting():
        said, words = _halves(raw)
        with place.collecting():
            height = _extent(said, scope)
        cells = tuple(cells_of(words, len(said) + 1, blocks, turn_of(scope)))
    return None if height is None or cells is None else Row(height, cells)


def _halves(raw: object) -> tuple[str, str]:
    if not isinstance(raw, str):
        raise Refusal("wrong-kind", f"expected text, got {name_of_kind(raw)}")
    height, colon, words = raw.partition(":")
    if not colon:
        raise Refusal("no-colon", 'a row is written "height : cells"; the colon is missing')
    return height, words


def _panels(
    place: Place, widths: list[Fraction], rows: list[Row], said: frozenset[str]
) -> CellMap | None:
    known = said | {cell for row in rows for cell in row.cells if cell != AWAY}
    cells = _cells_by_name(widths, rows)
    if not cells:
        place.report("empty-map", "every cell is cut away")
        return None
    shapes = {}
    for name, rectangles in cells.items():
        with place.collecting():
            shapes[name] = _shape(name, rectangles)
    return CellMap(shapes, known) if len(shapes) == len(cells) else None


def _cells_by_name(widths: list[Fraction], rows: list[Row]) -> dict[str, list[Path]]:
    """Return the rectangles of each panel, in the order in which one reads the map."""
    rights, right = [], Fraction(0)
    for width in widths:
        right += width
        rights.append(right)
    top = sum((row.height for row in rows), Fraction(0))
    cells: dict[str, list[Path]] = defaultdict(list)
    for row in rows:
        bottom = top - row.height
        for width, right, name in zip(widths, rights, row.cells, strict=True):
            if name != AWAY and width and row.height:
                cells[name].append(rectangle(right - width, bottom, right, top))
        top = bottom
    return cells


def _shape(name: str, rectangles: list[Path]) -> Shape:
    if len(rectangles) == 1:
        return shape_from_path(name, rectangles[0])
    borders = borders_of({str(i): [path] for i, path in enumerate(rectangles)})
    rings = rings_of(borders.free)
    exteriors = [ring for ring in rings if signed_area(ring) > 0]
    if len(exteriors) > 1:
        raise Refusal(
            "apart",
            f"panel {name!r} stands in places that do not touch",
            f"Call them {name}1, {name}2.",
        )
    return shape_from_path(name, exteriors[0], rings[1:])
