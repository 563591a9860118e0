"""How high each level panel would lie with all channels and gussets standing, nothing pressed.

A wall holds its two panels as far apart as it is wide; a fold shut on itself holds
them a thickness apart; what is taped lies on what it is taped to.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple

from ..part import Line, Part
from .levels import Level, PanelKey
from .stack import Stack, is_half_turn

Heights = dict[PanelKey, float]


def standing_heights(stack: Stack, ground: PanelKey) -> Heights:
    """Return the height of each level panel's middle over the upper side of *ground*.

    What hangs on nothing that leads there keeps its place among the others.
    """
    inner = {part: _heights_in(stack, keys) for part, keys in stack.of_part.items()}
    shifts = _shifts(stack, inner, ground[0])
    base = inner[ground[0]][ground] + stack.levels[ground].caliper / 2
    return {
        key: height + shifts.get(part, 0.0) - base
        for part, heights in inner.items()
        for key, height in heights.items()
    }


def _heights_in(stack: Stack, keys: Sequence[PanelKey]) -> Heights:
    """Return the heights of the level panels of one part.

    Those of folded paper without thickness, and a thickness more for each fold that is
    shut on itself, added up along the folds from the part's root on.
    """
    key = keys[0][0]
    folded = stack.parts[key]
    beside = _folds_of(folded.part)
    added, waiting = {folded.root: 0.0}, [folded.root]
    while waiting:
        panel = waiting.pop()
        for fold in beside.get(panel, ()):
            if fold.other not in added:
                step = _step(stack, (key, panel), (key, fold.other), fold.line)
                added[fold.other] = added[panel] + step
                waiting.append(fold.other)
    return {key: stack.levels[key].rigid + added.get(key[1], 0.0) for key in keys}


class _Beside(NamedTuple):
    """The panel beside one, and the fold between; None where both are one face."""

    other: str
    line: Line | None


def _folds_of(part: Part) -> Mapping[str, Sequence[_Beside]]:
    found: dict[str, list[_Beside]] = {}
    for first, second, line in _pairs(part):
        found.setdefault(first, []).append(_Beside(second, line))
        found.setdefault(second, []).append(_Beside(first, line))
    return found


def _pairs(part: Part) -> Iterator[tuple[str, str, Line | None]]:
    for first, second in part.rigid:
        yield first, second, None
    for line in part.folds:
        yield line.key.first, line.key.second, line


def _step(stack: Stack, panel: PanelKey, other: PanelKey, line: Line | None) -> float:
    """Return how much higher *other* lies than *panel* by a fold that is shut on itself."""
    if line is None or not is_half_turn(line):
        return 0.0
    level = stack.levels.get(panel)
    if level is None or other not in stack.levels:
        return 0.0
    lower, upper = (panel, other) if _rises(level, line) else (other, panel)
    return stack.gap(lower, upper) if upper == other else -stack.gap(lower, upper)


def _rises(level: Level, line: Line) -> bool:
    """Return whether the panel across a fold comes to lie above: a valley folds to the face."""
    return level.faces_up == (line.angle_deg > 0)


def _shifts(stack: Stack, inner: Mapping[str, Heights], start: str) -> dict[str, float]:
    """Return how much each part is raised, from part to part along the joins."""
    beside: dict[str, list[tuple[PanelKey, PanelKey, float]]] = {}
    for lower, upper in stack.glued:
        step = stack.gap(lower, upper)
        beside.setdefault(lower[0], []).append((lower, upper, step))
        beside.setdefault(upper[0], []).append((upper, lower, -step))
    shifts, waiting = {start: 0.0}, [start]
    while waiting:
        part = waiting.pop(0)
        for here, there, step in beside.get(part, ()):
            if there[0] not in shifts:
                raised = inner[part][here] + shifts[part] + step
                shifts[there[0]] = raised - inner[there[0]][there]
                waiting.append(there[0])
    return shifts
