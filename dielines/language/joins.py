"""Joins between the parts of one template, as its ``[[joins]]`` tell them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from ..documents import Place, Refusal, beneath, suggestion
from ..fields import Field, Kind, checked, name_of_kind
from ..part import Part, Side
from ..paths import Bounds, Point, bounds_of
from .custom import point_reader
from .expressions import Scope
from .points import pair_of
from .repeats import numbered_text, scopes_that_hold, turn_of
from .shapes import is_inside_box
from .work import Work

JOIN_FIELDS = (
    Field("zone", Kind.TEXT, True, help="part.panel"),
    Field("onto", Kind.TEXT, True, help="part.panel"),
    Field("at", Kind.LIST),
    Field("side", Kind.TEXT, words=("face", "reverse"), help="the target's side; face unless told"),
    Field("repeat", Kind.SIZE),
    Field("when", Kind.ANY),
)


@dataclass(frozen=True, slots=True)
class TemplateJoin:
    """A tape zone of one part onto one side of a panel of another.

    *at* is where the zone's lower left comes to lie on the target panel, from its
    lower left as it stands on the map, whichever side it is, mm; None when nothing
    is said. *turn* counts repeats from 1.
    """

    part: str
    zone: str
    onto_part: str
    onto_panel: str
    onto_side: Side
    at: Point | None
    turn: int


@dataclass(frozen=True)
class JoinTable:
    """A join as the file says it: its fields, checked for kind."""

    index: int
    fields: Mapping[str, Any]


def read_join_tables(place: Place, entries: Sequence[object]) -> tuple[JoinTable, ...]:
    """Return the joins that a template declares, without any size; faults are reported."""
    tables = []
    for index, entry in enumerate(entries):
        here = place / index
        if not isinstance(entry, dict):
            here.report("wrong-kind", f"expected a table, got {name_of_kind(entry)}")
            continue
        fields = checked(here, entry, JOIN_FIELDS)
        if "zone" in fields and "onto" in fields:
            tables.append(JoinTable(index, fields))
    return tuple(tables)


def joins_of(
    place: Place, tables: Sequence[JoinTable], scope: Scope, parts: Sequence[Part], work: Work
) -> tuple[TemplateJoin, ...]:
    """Return the joins between *parts*; faults are reported."""
    joins: list[TemplateJoin] = []
    for table in tables:
        if work.is_used_up:
            break
        with (place / table.index).collecting():
            for inner in scopes_that_hold(table.fields, scope):
                work.spend(1 + len(parts) / 10)
                joins.append(_join(table.fields, inner, parts))
    return tuple(joins)


def _join(fields: Mapping[str, Any], scope: Scope, parts: Sequence[Part]) -> TemplateJoin:
    part, zone = _target(fields, "zone", scope, parts)
    onto_part, panel = _target(fields, "onto", scope, parts)
    side = Side(fields.get("side", Side.FACE.value))
    turn = max(turn_of(scope), 1)
    boxes = _box_of_zone(parts, part, zone), _box_of_panel(parts, onto_part, panel)
    at = _at(fields, scope, *boxes)
    return TemplateJoin(part, zone, onto_part, panel, side, at, turn)


def _box_of_zone(parts: Sequence[Part], name: str, zone: str) -> Bounds:
    part = next(part for part in parts if part.name == name)
    return bounds_of([next(z.path for z in part.zones if z.name == zone)])


def _box_of_panel(parts: Sequence[Part], name: str, panel: str) -> Bounds:
    return next(part for part in parts if part.name == name).panel(panel).bounds()


def _target(
    fields: Mapping[str, Any], key: str, scope: Scope, parts: Sequence[Part]
) -> tuple[str, str]:
    """Return the part and the zone or panel that ``part.name`` names; raises Refusal."""
    with beneath(key):
        part_name, dot, name = numbered_text(fields[key], scope).partition(".")
        part = next((part for part in parts if part.name == part_name), None)
        if part is None or not dot:
            hint = suggestion(part_name, [part.name for part in parts])
            raise Refusal("no-part", f"no part {part_name[:40]!r}{hint}", "Write part.panel.")
        names = [z.name for z in part.zones] if key == "zone" else [p.name for p in part.panels]
        if name not in names:
            kind = "zone of tape" if key == "zone" else "panel"
            raise Refusal(
                f"no-{key}", f"{part_name!r} has no {kind} {name!r}{suggestion(name, names)}"
            )
        return part_name, name


def _at(fields: Mapping[str, Any], scope: Scope, zone: Bounds, target: Bounds) -> Point | None:
    """Return where the zone lies on its target, wholly; raises Refusal."""
    if "at" not in fields:
        return None
    with beneath("at"):
        at = pair_of(fields["at"], point_reader(scope))
        on_target = Bounds(at.x, at.y, at.x + zone.width, at.y + zone.height)
        if not is_inside_box(on_target, Bounds(0, 0, target.width, target.height)):
            raise Refusal("off-target", "the tape would stick out of its target")
        return at
