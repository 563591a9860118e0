"""The map of a part: columns, rows and cells, resolved into panels.

``columns`` gives widths from left to right; each row is written ``"height :
cells"`` from top to bottom, a dot for what is cut away. The same word in
touching cells is one panel. A row or column of size 0 vanishes with its cells.
"""

from __future__ import annotations

import re
from collections import defaultdict, deque
from collections.abc import Iterable, Iterator, Mapping
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
from .shapes import Shape, shape_from_path
from .work import Work, weight_of

MAX_CELLS = 4_000
AWAY = "."
_PANEL_NAME = re.compile(r"[a-z][a-z0-9_]{0,39}#?")
_WORD = re.compile(r"[()]|[^\s()]+")


@dataclass(frozen=True, slots=True)
class Block:
    """One entry of ``columns``: a single column, or columns that repeat in turns.

    *widths* are all columns it became, mm, turn after turn; *pattern* says how
    many columns one turn has, 0 where a fault leaves that open.
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


_COLUMN_REPEAT = (Field("repeat", Kind.SIZE, True), Field("columns", Kind.LIST, True))
_ROW_REPEAT = (Field("repeat", Kind.SIZE, True), Field("rows", Kind.LIST, True))


def _repeated_block(place: Place, entry: dict[str, Any], scope: Scope, work: Work) -> Block:
    fields = checked(place, entry, _COLUMN_REPEAT)
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
        fields = checked(here, entry, _ROW_REPEAT)
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
        cells = tuple(_cells(words, len(said) + 1, blocks, turn_of(scope)))
    return None if height is None or cells is None else Row(height, cells)


def _halves(raw: object) -> tuple[str, str]:
    if not isinstance(raw, str):
        raise Refusal("wrong-kind", f"expected text, got {name_of_kind(raw)}")
    height, colon, words = raw.partition(":")
    if not colon:
        raise Refusal("no-colon", 'a row is written "height : cells"; the colon is missing')
    return height, words


@dataclass(frozen=True, slots=True)
class _Word:
    text: str
    offset: int


def _cells(words: str, shift: int, blocks: list[Block], turn: int) -> Iterator[str]:
    """Yield one name a column; brackets show which cells repeat with their columns."""
    waiting = deque(_Word(m[0], m.start() + shift) for m in _WORD.finditer(words))
    found = 0
    for position, block in enumerate(blocks):
        if not waiting:
            break
        word = waiting.popleft()
        if word.text == ")":
            raise Refusal("bracket", "')' without '('", offset=word.offset)
        if (word.text == "(") != block.is_repeated:
            if word.text == "(":
                _group(deque(waiting), word)
            raise _misplaced_bracket(word, position, block)
        found += 1
        if block.is_repeated:
            yield from _repeated_cells(_group(waiting, word), block)
        else:
            yield _cell_name(word, turn)
    extra = waiting[0].offset if waiting else 0
    found += _counted_groups(waiting)
    if found != len(blocks):
        have, want = _counted(found, "cell"), _counted(len(blocks), "column")
        verb = "is" if len(blocks) == 1 else "are"
        raise Refusal("cell-count", f"this row has {have}, but there {verb} {want}", offset=extra)


def _misplaced_bracket(word: _Word, position: int, block: Block) -> Refusal:
    column = f"column {position + 1}"
    if block.is_repeated:
        message, remedy = f"{column} is repeated", "Put its cells in brackets: ( name# )."
    else:
        message, remedy = f"{column} is not repeated", "Leave out the brackets."
    return Refusal("not-repeated", message, remedy, word.offset)


def _counted_groups(waiting: Iterable[_Word]) -> int:
    """Return how many cells are left over, a bracketed group counting as one; raises Refusal."""
    count = depth = 0
    for word in waiting:
        if word.text == ")" and depth == 0:
            raise Refusal("bracket", "')' without '('", offset=word.offset)
        count += depth == 0
        depth += (word.text == "(") - (word.text == ")")
    return count


def _counted(count: int, noun: str) -> str:
    return f"{count} {noun}" if count == 1 else f"{count} {noun}s"


def _group(waiting: deque[_Word], opening: _Word) -> list[_Word]:
    group: list[_Word] = []
    while waiting:
        word = waiting.popleft()
        if word.text == ")":
            return group
        group.append(word)
    raise Refusal("bracket", "'(' without ')'", offset=opening.offset)


def _repeated_cells(group: list[_Word], block: Block) -> Iterator[str]:
    if not block.pattern:
        return
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
        told = f"{word.text[:40]!r} is not a panel name (small letters, digits, _) nor a dot"
        raise Refusal("bad-name", told, offset=word.offset)
    if not word.text.endswith("#"):
        return word.text
    if not turn:
        raise Refusal("bad-name", "# counts inside a repeat only", offset=word.offset)
    return f"{word.text[:-1]}{turn}"


def refuse_no_name(name: str) -> None:
    """Raise Refusal unless a panel, a zone or a line may be called *name*."""
    if not _PANEL_NAME.fullmatch(name) or "#" in name:
        told = f"{name[:40]!r} is not a name (small letters, digits, _)"
        raise Refusal("bad-name", told)


def names_said(rows: object) -> frozenset[str]:
    """Return the panels that rows speak of, those included that sizes of 0 make vanish."""
    words: set[str] = set()
    for entry in rows if isinstance(rows, list) else ():
        if isinstance(entry, dict):
            words |= names_said(entry.get("rows"))
        elif isinstance(entry, str):
            words.update(_WORD.findall(entry.partition(":")[2]))
    return frozenset(word for word in words if _PANEL_NAME.fullmatch(word))


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
