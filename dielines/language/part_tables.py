"""What a table ``[parts.NAME]`` holds, read and checked as far as it can be without any size."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from ..documents import Place
from ..fields import Field, Kind, checked, name_of_kind
from .edit_lines import EditLine, read_lines
from .work import weight_of

MAX_PARTS = 100  #: tables; each may repeat
LAYOUTS = ("columns", "outline", "boards", "covers")
PART_FIELDS = (
    Field("stock", Kind.TEXT, help="The role of its material: cardstock, board, ..."),
    Field("grain", Kind.TEXT, words=("spine", "up", "across", "free")),
    Field("quantity", Kind.SIZE),
    Field("repeat", Kind.SIZE),
    Field("when", Kind.ANY),
    Field("bound", Kind.TEXT),
    Field("mouth", Kind.TABLE),
    Field("columns", Kind.LIST),
    Field("rows", Kind.LIST),
    Field("edits", Kind.LIST),
    Field("steps", Kind.LIST),
    Field("folds", Kind.TABLE),
    Field("covers", Kind.LIST),
    Field("lap", Kind.TABLE),
    Field("side", Kind.TEXT, words=("face", "reverse")),
    Field("turn_in", Kind.SIZE),
    Field("mitre", Kind.SIZE),
    Field("boards", Kind.LIST),
    Field("outline", Kind.LIST),
    Field("panels", Kind.TABLE),
    Field("lines", Kind.TABLE),
)
_ANYWHERE = frozenset({"stock", "grain", "quantity", "repeat", "when", "bound", "mouth", "edits"})
_FOLDED = frozenset({"folds", "steps"})
#: the fields that go with each layout
_FIELDS_OF = {
    "columns": frozenset({"columns", "rows"}) | _FOLDED,
    "outline": frozenset({"outline", "panels", "lines"}) | _FOLDED,
    "boards": frozenset({"boards", "turn_in", "mitre"}),
    "covers": frozenset({"covers", "lap", "side"}),
}
_NAME = re.compile(r"[a-z][a-z0-9_]{0,39}#?")


@dataclass(frozen=True)
class PartTable:
    """A part as the file says it: known fields of the right kind, and its edits."""

    name: str  #: with a ``#`` where it repeats
    fields: Mapping[str, Any]
    lines: tuple[EditLine, ...]
    is_sound: bool  #: nothing was at fault in its fields
    weight: float  #: what reading its sizes costs

    @property
    def layout(self) -> str:
        """Which of the four ways to say a shape it has; empty when that was at fault."""
        found = [layout for layout in LAYOUTS if layout in self.fields]
        return found[0] if len(found) == 1 else ""


def read_parts(place: Place, tables: Mapping[str, Any]) -> tuple[PartTable, ...]:
    """Return the parts that *tables* declare; faults are reported."""
    if len(tables) > MAX_PARTS:
        place.report_key("too-many", f"more than {MAX_PARTS} parts")
        return ()
    read = [_part(place / name, name, table) for name, table in tables.items()]
    return tuple(part for part in read if part)


def _part(place: Place, name: str, table: object) -> PartTable | None:
    if not isinstance(table, dict):
        place.report("wrong-kind", f"expected a table, got {name_of_kind(table)}")
        return None
    before = len(place.document.faults)
    fields = checked(place, table, PART_FIELDS)
    _check_name(place, name, "repeat" in table)
    _check_layout(place, table)
    is_sound = len(place.document.faults) == before
    lines = read_lines(place / "edits", fields.get("edits", []))
    weight = weight_of([value for key, value in fields.items() if key != "edits"])
    return PartTable(name, fields, lines, is_sound, weight)


def _check_name(place: Place, name: str, is_repeated: bool) -> None:
    if not _NAME.fullmatch(name):
        remedy = "Begin with a small letter; small letters, digits and _ may follow."
        place.report_key("bad-name", f"{name[:40]!r} is not a name for a part", remedy)
    elif is_repeated != name.endswith("#"):
        message = (
            "repeats, so its name ends in #" if is_repeated else "# counts inside a repeat only"
        )
        place.report_key("bad-name", message, f'Write [parts."{name.rstrip("#")}#"] and repeat.')


def _check_layout(place: Place, table: Mapping[str, Any]) -> None:
    layouts = [layout for layout in LAYOUTS if layout in table]
    if len(layouts) != 1:
        said = f"; here are {' and '.join(layouts)}" if layouts else ""
        place.report_key("which-layout", f"a part has only one of {', '.join(LAYOUTS)}{said}")
        return
    known = _FIELDS_OF[layouts[0]] | _ANYWHERE
    for field in PART_FIELDS:
        if field.name in table and field.name not in known:
            told = f"{field.name!r} says nothing about a part with {layouts[0]}"
            (place / field.name).report_key("not-here", told)
