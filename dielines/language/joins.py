"""Joins between the parts of one template, as its ``[[joins]]`` tell them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from ..documents import Place, Refusal, beneath, suggestion
from ..fields import Field, Kind, checked, is_kind, name_of_kind
from ..part import Part, Side
from ..paths import Point
from .cellmap import repeat_count, scope_with
from .editing import holds, numbered_text
from .expressions import Scope, size_of

_FIELDS = (
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


def read_joins(
    place: Place, entries: Sequence[object], scope: Scope, parts: Sequence[Part]
) -> tuple[TemplateJoin, ...]:
    """Return the joins that a template declares; faults are reported."""
    joins: list[TemplateJoin] = []
    for index, entry in enumerate(entries):
        here = place / index
        if not isinstance(entry, dict):
            here.report("wrong-kind", f"expected a table, got {name_of_kind(entry)}")
            continue
        fields = checked(here, entry, _FIELDS)
        if "zone" in fields and "onto" in fields:
            with here.collecting():
                joins.extend(_joins(here, fields, scope, parts))
    return tuple(joins)


def _joins(
    place: Place, fields: Mapping[str, Any], scope: Scope, parts: Sequence[Part]
) -> Iterable[TemplateJoin]:
    turns = [scope]
    if "repeat" in fields:
        with beneath("repeat"):
            count = repeat_count(place, fields["repeat"], scope)
        turns = [scope_with(scope, i=turn) for turn in range(1, count + 1)]
    for turn, inner in enumerate(turns, 1):
        if holds(fields.get("when", True), inner):
            part, zone = _target(fields, "zone", inner, parts)
            onto_part, panel = _target(fields, "onto", inner, parts)
            side = Side(fields.get("side", "face"))
            yield TemplateJoin(part, zone, onto_part, panel, side, _at(fields, inner), turn)


def _target(
    fields: Mapping[str, Any], key: str, scope: Scope, parts: Sequence[Part]
) -> tuple[str, str]:
    """Return the part and the zone or panel that ``part.name`` names; raises Refusal."""
    with beneath(key):
        part_name, dot, name = numbered_text(fields[key], scope).partition(".")
        part = next((part for part in parts if part.name == part_name), None)
        if part is None or not dot:
            hint = suggestion(part_name, [part.name for part in parts])
            raise Refusal("no-part", f"no part {part_name!r}{hint}", "Write part.panel.")
        names = [z.name for z in part.zones] if key == "zone" else [p.name for p in part.panels]
        if name not in names:
            kind = "zone of tape" if key == "zone" else "panel"
            raise Refusal(
                f"no-{key}", f"{part_name!r} has no {kind} {name!r}{suggestion(name, names)}"
            )
        return part_name, name


def _at(fields: Mapping[str, Any], scope: Scope) -> Point | None:
    if "at" not in fields:
        return None
    raw = fields["at"]
    with beneath("at"):
        if len(raw) != 2 or not all(is_kind(value, Kind.SIZE) for value in raw):
            raise Refusal("bad-point", "a point is written [x, y]")
        return Point(size_of(raw[0], scope), size_of(raw[1], scope))
