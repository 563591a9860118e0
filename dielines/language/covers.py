"""Reinforcement: a part of its own that covers named panels of another and laps onto the next."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from fractions import Fraction
from itertools import combinations
from typing import Any

from ..documents import Place, Refusal, beneath, suggestion
from ..fields import Kind, is_kind, name_of_kind
from ..landing import overhang_of
from ..part import FoldKey, Part
from ..paths import Bounds, Number, Path, bounds_of, rectangle
from .cellmap import shown
from .drafts import Draft, borders_between
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
                raise Refusal("no-panel", f"no panel {name[:40]!r}{suggestion(name, names)}")
            laps += [(name, _lap(raw, scope))] if name in names else []
    return Cover(tuple(chosen), tuple(laps))


def _lap(raw: object, scope: Scope) -> Fraction:
    if not is_kind(raw, Kind.SIZE):
        raise Refusal("wrong-kind", f"expected a size, got {name_of_kind(raw)}")
    lap = size_of(raw, scope)  # type: ignore[arg-type]
    if lap < 0:
        raise Refusal("negative", f"comes out below zero: {shown(lap, scope)}")
    return lap


def _panels(raw: object, names: list[str], known: frozenset[str]) -> Iterable[str]:
    if not isinstance(raw, str):
        raise Refusal("wrong-kind", f"expected text, got {name_of_kind(raw)}")
    found = [n for n in names if n == raw or (raw.endswith("*") and n.startswith(raw[:-1]))]
    if not found and not raw.endswith("*") and raw not in known:
        raise Refusal("no-panel", f"no panel {raw[:40]!r}{suggestion(raw, names)}")
    return found


def cover_draft(covered: Part, cover: Cover) -> Draft:
    """Return the draft of a reinforcement: the covered panels and a strip on each lapped one."""
    shapes = {
        name: shape_from_path(name, covered.panel(name).outline, covered.panel(name).holes)
        for name in cover.panels
    }
    for name, lap in cover.laps:
        with beneath("lap", name):
            strips = _lap_strips(covered, cover, name, lap) if lap else []
        shapes.update({strip.name: strip for strip in strips})
    if not shapes:
        raise Refusal("empty-map", "covers no panel")
    borders = borders_between(shapes)
    rules = {FoldKey(c.first, c.relation, c.second): Rule(None) for c in borders.contacts}
    return Draft(shapes, frozenset(shapes), rules, borders)


def _lap_strips(covered: Part, cover: Cover, name: str, lap: Number) -> list[Shape]:
    """Return the strips along the lines between panel *name* and what is covered."""
    panel = covered.panel(name)
    lines = [
        line
        for line in covered.lines
        if name in line.key.panels() and line.key.panels() & set(cover.panels) - {name}
    ]
    paths = [
        _strip_beside(bounds_of([p]), line.key, name, lap) for line in lines for p in line.pieces
    ]
    if not paths:
        raise Refusal("no-contact", f"{name!r} touches nothing that is covered")
    for path in paths:
        if not overhang_of(path, panel.outline, panel.holes).is_inside:
            raise Refusal("outside", f"the lap does not lie within panel {name!r}")
    if any(_overlap(a, b) for a, b in combinations(map(_box, paths), 2)):
        raise Refusal("laps-overlap", f"the laps on panel {name!r} would lie on one another")
    numbers = ["", *(str(number) for number in range(2, len(paths) + 1))]
    return [
        shape_from_path(f"lap_{name}{number}", path)
        for number, path in zip(numbers, paths, strict=True)
    ]


def _strip_beside(line: Bounds, key: FoldKey, panel: str, lap: Number) -> Path:
    """Return the rectangle from an upright or level line into *panel*; raises Refusal."""
    if key.relation == "-":
        raise Refusal("oblique", "a lap begins at an upright or level line")
    is_first = key.first == panel
    if key.relation == "|":
        left, right = (line.left - lap, line.left) if is_first else (line.left, line.left + lap)
        return rectangle(left, line.bottom, right, line.top)
    low, high = (line.bottom, line.bottom + lap) if is_first else (line.bottom - lap, line.bottom)
    return rectangle(line.left, low, line.right, high)


def _box(path: Path) -> Bounds:
    return bounds_of([path])


def _overlap(a: Bounds, b: Bounds) -> bool:
    across = min(a.right, b.right) > max(a.left, b.left)
    return across and min(a.top, b.top) > max(a.bottom, b.bottom)
