"""Reinforcement: a part of its own that covers named panels of another and laps onto the next."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from ..documents import Place, Refusal, beneath, suggestion
from ..fields import Kind, is_kind, name_of_kind
from ..part import FoldKey, Panel, Part
from ..paths import Bounds, Number, Path, bounds_of, rectangle
from .borders import borders_of
from .drafts import Draft, outlines_of
from .expressions import Scope, size_of
from .folding_keys import Rule
from .shapes import Shape, shape_from_path


@dataclass(frozen=True, slots=True)
class Cover:
    """What a reinforcement covers, and how far it laps onto which panels, mm."""

    panels: tuple[str, ...]
    laps: tuple[tuple[str, Fraction], ...]


def read_cover(
    place: Place,
    table: Mapping[str, Any],
    covered: Part,
    known: frozenset[str],
    scope: Scope,
) -> Cover:
    """Return what a part with ``covers`` names on *covered*; raises Refusal.

    Panels that are *known* but have vanished fall silent.
    """
    names = [panel.name for panel in covered.panels]
    chosen: list[str] = []
    for index, raw in enumerate(table["covers"]):
        with beneath("covers", index):
            chosen.extend(n for n in _panels(raw, names, known) if n not in chosen)
    laps = []
    for name, raw in table.get("lap", {}).items():
        with beneath("lap", name):
            if name not in names and name not in known:
                raise Refusal("no-panel", f"no panel {name!r}{suggestion(name, names)}")
            if not is_kind(raw, Kind.SIZE):
                raise Refusal("wrong-kind", f"expected a size, got {name_of_kind(raw)}")
            laps += [(name, size_of(raw, scope))] if name in names else []
    return Cover(tuple(chosen), tuple(laps))


def _panels(raw: object, names: list[str], known: frozenset[str]) -> Iterable[str]:
    if not isinstance(raw, str):
        raise Refusal("wrong-kind", f"expected text, got {name_of_kind(raw)}")
    found = [n for n in names if n == raw or (raw.endswith("*") and n.startswith(raw[:-1]))]
    if not found and not raw.endswith("*") and raw not in known:
        raise Refusal("no-panel", f"no panel {raw!r}{suggestion(raw, names)}")
    return found


def cover_draft(covered: Part, cover: Cover) -> Draft:
    """Return the draft of a reinforcement: the covered panels and a strip on each lapped one."""
    shapes = {
        name: shape_from_path(name, covered.panel(name).outline, covered.panel(name).holes)
        for name in cover.panels
    }
    for name, lap in cover.laps:
        if lap:
            strips = _lap_strips(covered, cover, name, lap)
            shapes.update({strip.name: strip for strip in strips})
    if not shapes:
        raise Refusal("empty-map", "covers no panel")
    contacts = borders_of(outlines_of(shapes)).contacts
    rules = {FoldKey(c.first, c.relation, c.second): Rule(None) for c in contacts}
    return Draft(shapes, frozenset(shapes), rules, contacts)


def _lap_strips(covered: Part, cover: Cover, name: str, lap: Number) -> list[Shape]:
    """Return the strips along the lines between panel *name* and what is covered."""
    panel = covered.panel(name)
    strips: list[Shape] = []
    for line in covered.lines:
        others = line.key.panels() - {name}
        if name not in line.key.panels() or not others & set(cover.panels):
            continue
        box = bounds_of(line.pieces)
        path = _strip_beside(box, panel, lap)
        number = "" if not strips else str(len(strips) + 1)
        strips.append(shape_from_path(f"lap_{name}{number}", path))
    if not strips:
        with beneath("lap", name):
            raise Refusal("no-contact", f"{name!r} touches nothing that is covered")
    return strips


def _strip_beside(line: Bounds, panel: Panel, lap: Number) -> Path:
    """Return the rectangle from an upright or level line into *panel*."""
    box = panel.bounds()
    if line.width == 0:
        inward = 1 if box.right - line.left >= line.left - box.left else -1
        ends = sorted((line.left, line.left + inward * lap))
        return rectangle(ends[0], line.bottom, ends[1], line.top)
    inward = 1 if box.top - line.bottom >= line.bottom - box.bottom else -1
    ends = sorted((line.bottom, line.bottom + inward * lap))
    return rectangle(line.left, ends[0], line.right, ends[1])
