"""The map of a part: columns, rows and cells, resolved into panels.

``columns`` gives widths from left to right; each row is written ``"height :
cells"`` from top to bottom, a dot for what is cut away. The same word in
touching cells is one panel. A row or column of size 0 vanishes with its cells.
"""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Any

from ..documents import Place, Refusal
from ..fields import Field, Kind, checked, is_kind, name_of_kind
from ..lengths import show
from ..part import exact_length
from ..paths import Path, rectangle, signed_area
from .borders import borders_of, rings_of
from .expressions import Scope, size_of, whole_of
from .shapes import Shape, shape_from_path
from .values import number

MAX_REPEATS = 200
MAX_CELLS = 4_000
AWAY = "."
_PANEL_NAME = re.compile(r"[a-z][a-z0-9_]*#?")
_WORD = re.compile(r"[()]|[^\s()]+")


@dataclass(frozen=True, slots=True)
class Block:
    """One entry of ``columns``: a single column, or columns that repeat in turns.

    *widths* are all columns it became, mm, turn after turn; *pattern* says how
    many columns one turn has.
    """

    widths: tuple[Fraction, ...]
    pattern: int
    is_repeated: bool


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


def scope_with(scope: Scope, **names: int) -> Scope:
    """Return *scope* with whole numbers added, such as the index of a repeat."""
    return replace(
        scope, names={**scope.names, **{k: number(Fraction(v)) for k, v in names.items()}}
    )


def repeat_count(place: Place, raw: object, scope: Scope) -> int:
    """Return how often something repeats, 0 to 200; raises Refusal."""
    if not is_kind(raw, Kind.SIZE):
        raise Refusal("wrong-kind", f"expected a count, got {name_of_kind(raw)}")
    count = whole_of(raw, scope)  # type: ignore[arg-type]
    if not 0 <= count <= MAX_REPEATS:
        raise Refusal("too-many", f"repeat = {count} is outside 0 to {MAX_REPEATS}")
    return count


def read_map(place: Place, table: Mapping[str, Any], scope: Scope) -> CellMap | None:
    """Return the panels of the part described by *table*; None when faults were reported."""
    before = len(place.document.faults)
    blocks = list(_blocks(place / "columns", table.get("columns", []), scope))
    if len(place.document.faults) > before:
        return None
    rows = list(_rows(place / "rows", table.get("rows", []), scope, blocks))
    if len(place.document.faults) > before:
        return None
    widths = [width for block in blocks for width in block.widths]
    if len(widths) * len(rows) > MAX_CELLS:
        place.report("too-many", f"{len(widths)} x {len(rows)} cells are more than {MAX_CELLS}")
        return None
    if not widths or not rows:
        place.report("empty-map", "the map has no cells")
        return None
    return _panels(place / "rows", widths, rows)


def _blocks(place: Place, entries: list[Any], scope: Scope) -> Iterator[Block]:
    for index, entry in enumerate(entries):
        here = place / index
        with here.collecting():
            if isinstance(entry, dict):
                yield _repeated_block(here, entry, scope)
            else:
                yield Block((_extent(here, entry, scope),), 1, is_repeated=False)


_COLUMN_REPEAT = (Field("repeat", Kind.SIZE, True), Field("columns", Kind.LIST, True))
_ROW_REPEAT = (Field("repeat", Kind.SIZE, True), Field("rows", Kind.LIST, True))


def _repeated_block(place: Place, entry: dict[str, Any], scope: Scope) -> Block:
    fields = checked(place, entry, _COLUMN_REPEAT)
    if len(fields) < 2:
        return Block((), 1, is_repeated=True)
    if not fields["columns"]:
        raise Refusal("empty-map", "nothing is said to repeat")
    widths = []
    for turn in range(1, repeat_count(place / "repeat", fields["repeat"], scope) + 1):
        inner = scope_with(scope, i=turn)
        for index, raw in enumerate(fields["columns"]):
            here = place / "columns" / index
            with here.collecting():
                widths.append(_extent(here, raw, inner))
    return Block(tuple(widths), len(fields["columns"]), is_repeated=True)


def _extent(place: Place, raw: object, scope: Scope, shift: int = 0) -> Fraction:
    """Return a width or height, mm; raises Refusal when it is no size or negative."""
    if not is_kind(raw, Kind.SIZE):
        raise Refusal("wrong-kind", f"expected a size, got {name_of_kind(raw)}")
    try:
        size = size_of(raw, scope)  # type: ignore[arg-type]
    except Refusal as refusal:
        raise Refusal(
            refusal.code, refusal.message, refusal.remedy, refusal.offset + shift
        ) from None
    if size < 0:
        raise Refusal("negative", f"comes out below zero: {shown(size, scope)}")
    return size


def shown(size: Fraction | float, scope: Scope) -> str:
    """Return a size as the template's author would read it."""
    return show(exact_length(size), scope.units or "mm", 32).removeprefix("≈ ")


def _rows(place: Place, entries: list[Any], scope: Scope, blocks: list[Block]) -> Iterator[Row]:
    for index, entry in enumerate(entries):
        here = place / index
        with here.collecting():
            if isinstance(entry, dict):
                yield from _repeated_rows(here, entry, scope, blocks)
            else:
                yield _row(here, entry, scope, blocks, 0)


def _repeated_rows(
    place: Place, entry: dict[str, Any], scope: Scope, blocks: list[Block]
) -> Iterator[Row]:
    fields = checked(place, entry, _ROW_REPEAT)
    if len(fields) < 2:
        return
    for turn in range(1, repeat_count(place / "repeat", fields["repeat"], scope) + 1):
        inner = scope_with(scope, i=turn)
        for index, raw in enumerate(fields["rows"]):
            here = place / "rows" / index
            with here.collecting():
                yield _row(here, raw, inner, blocks, turn)


def _row(place: Place, raw: object, scope: Scope, blocks: list[Block], turn: int) -> Row:
    if not isinstance(raw, str):
        raise Refusal("wrong-kind", f"expected text, got {name_of_kind(raw)}")
    height, colon, words = raw.partition(":")
    if not colon:
        raise Refusal("no-colon", 'a row is written "height : cells"; the colon is missing')
    cells = tuple(_cells(words, len(height) + 1, blocks, turn))
    return Row(_extent(place, height, scope), cells)


@dataclass(frozen=True, slots=True)
class _Word:
    text: str
    offset: int


def _cells(words: str, shift: int, blocks: list[Block], turn: int) -> Iterator[str]:
    """Yield one name a column; brackets show which cells repeat with their columns."""
    waiting = [_Word(m[0], m.start() + shift) for m in _WORD.finditer(words)]
    found = 0
    for position, block in enumerate(blocks):
        if not waiting:
            break
        word = waiting.pop(0)
        if word.text == ")":
            raise Refusal("bracket", "')' without '('", offset=word.offset)
        if (word.text == "(") != block.is_repeated:
            raise _misplaced_bracket(word, position, block)
        found += 1
        if block.is_repeated:
            yield from _repeated_cells(_group(waiting, word), block)
        else:
            yield _cell_name(word, turn)
    found += _counted_groups(waiting)
    if found != len(blocks):
        have, want = _counted(found, "cell"), _counted(len(blocks), "column")
        verb = "is" if len(blocks) == 1 else "are"
        raise Refusal("cell-count", f"this row has {have}, but there {verb} {want}")


def _misplaced_bracket(word: _Word, position: int, block: Block) -> Refusal:
    column = f"column {position + 1}"
    if block.is_repeated:
        message, remedy = f"{column} is repeated", "Put its cells in brackets: ( name# )."
    else:
        message, remedy = f"{column} is not repeated", "Leave out the brackets."
    return Refusal("not-repeated", message, remedy, word.offset)


def _counted_groups(waiting: list[_Word]) -> int:
    """Return how many cells are left over, a bracketed group counting as one."""
    count = depth = 0
    for word in waiting:
        count += depth == 0 and word.text != ")"
        depth += (word.text == "(") - (word.text == ")")
    return count


def _counted(count: int, noun: str) -> str:
    return f"{count} {noun}" if count == 1 else f"{count} {noun}s"


def _group(waiting: list[_Word], opening: _Word) -> list[_Word]:
    group: list[_Word] = []
    while waiting:
        word = waiting.pop(0)
        if word.text == ")":
            return group
        group.append(word)
    raise Refusal("bracket", "'(' without ')'", offset=opening.offset)


def _repeated_cells(group: list[_Word], block: Block) -> Iterator[str]:
    if len(group) != block.pattern:
        have = _counted(len(group), "cell")
        raise Refusal("cell-count", f"the brackets hold {have} for {block.pattern} columns")
    for turn in range(1, len(block.widths) // block.pattern + 1):
        for word in group:
            yield _cell_name(word, turn)


def _cell_name(word: _Word, turn: int) -> str:
    if word.text == AWAY:
        return AWAY
    if not _PANEL_NAME.fullmatch(word.text):
        raise Refusal(
            "bad-name",
            f"{word.text!r} is not a panel name (small letters, digits, _) nor a dot",
            offset=word.offset,
        )
    if not word.text.endswith("#"):
        return word.text
    if not turn:
        raise Refusal("bad-name", "# counts inside a repeat only", offset=word.offset)
    return f"{word.text[:-1]}{turn}"


def names_said(rows: object) -> frozenset[str]:
    """Return the panels that rows speak of, those included that sizes of 0 make vanish."""
    words: set[str] = set()
    for entry in rows if isinstance(rows, list) else ():
        if isinstance(entry, dict):
            words |= names_said(entry.get("rows"))
        elif isinstance(entry, str):
            words.update(_WORD.findall(entry.partition(":")[2]))
    return frozenset(words) - {AWAY, "(", ")"}


def _panels(place: Place, widths: list[Fraction], rows: list[Row]) -> CellMap | None:
    known = frozenset(cell for row in rows for cell in row.cells if cell != AWAY)
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
