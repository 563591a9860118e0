"""All that lies between the boards: level panels, what is stuck on them, and how they hang together."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from ..book.book import Book
from ..part import Line, Part
from .contents import CONTENTS, contents_coats, insert_coats
from .folded_part import FoldedPart
from .hosts import hosts_of
from .levels import (
    BOARDS,
    LEVEL,
    Coat,
    Level,
    PanelKey,
    Places,
    is_above,
    levels_of,
    mat_coat,
    reinforcement_coats,
    tape_coats,
    thickest,
)

HALF_TURN = 180
LAST = frozenset({"mats", CONTENTS})  #: kinds of what is put on when all tape has been covered


@dataclass(frozen=True, slots=True)
class Link:
    """A panel that stands between two level panels of its part, and how far apart it holds them."""

    wall: PanelKey
    lower: PanelKey
    upper: PanelKey
    width: float
    is_channel: bool


@dataclass(frozen=True)
class Stack:
    """The closed book as layers: nothing in it says how high they lie."""

    levels: Mapping[PanelKey, Level]
    coats: Mapping[PanelKey, Sequence[Coat]]
    glued: tuple[
        tuple[PanelKey, PanelKey], ...
    ]  #: level panels that are joined, the lower one first
    hung: Mapping[PanelKey, PanelKey]  #: tabs of bound parts, and what each is taped onto
    links: tuple[Link, ...]
    parts: Mapping[str, FoldedPart]
    boards: tuple[PanelKey, ...]  #: those that lie parallel to the pages, the back one first

    @cached_property
    def of_part(self) -> Mapping[str, Sequence[PanelKey]]:
        """The level panels of each part."""
        found: dict[str, list[PanelKey]] = {}
        for key in self.levels:
            found.setdefault(key[0], []).append(key)
        return found

    @cached_property
    def _taped(self) -> frozenset[tuple[PanelKey, PanelKey]]:
        return frozenset(self.glued)

    def is_board(self, part: str) -> bool:
        """Return whether a part is one of the boards."""
        return any(part == key for key, _ in self.boards)

    def side(self, a: PanelKey, b: PanelKey) -> int:
        """Return +1 where *b* lies above *a*, a panel of the same part, -1 below, 0 if unknown."""
        level = self.levels[a]
        side = self.parts[a[0]].side_of(a[1], b[1])
        return side if level.faces_up else -side

    def pack(self, key: PanelKey) -> dict[PanelKey, float]:
        """Return what hangs together with a panel by tape alone, with heights over that panel."""
        heights, waiting = {key: 0.0}, [key]
        while waiting:
            here = waiting.pop()
            for there, step in self._beside.get(here, ()):
                if there not in heights:
                    heights[there] = heights[here] + step
                    waiting.append(there)
        return heights

    @cached_property
    def _beside(self) -> Mapping[PanelKey, Sequence[tuple[PanelKey, float]]]:
        """What each panel is taped to, and how much higher that lies."""
        found: dict[PanelKey, list[tuple[PanelKey, float]]] = {}
        for lower, upper in self.glued:
            step = self.gap(lower, upper)
            found.setdefault(lower, []).append((upper, step))
            found.setdefault(upper, []).append((lower, -step))
        return found

    def gap(self, lower: PanelKey, upper: PanelKey) -> float:
        """Return how far the middles of two panels, one over the other, are apart at least.

        Mats go on last and contents after them, so neither lies between taped panels.
        """
        a, b = self.levels[lower], self.levels[upper]
        middle = (a.caliper + b.caliper) / 2
        coats = [c for c in self.coats.get(lower, ()) if c.is_above]
        coats += [c for c in self.coats.get(upper, ()) if not c.is_above]
        is_taped = (lower, upper) in self._taped
        between = [(c.box, c.thickness) for c in coats if not (is_taped and c.kind in LAST)]
        shared = a.box.shared(b.box) if between else None
        return middle + thickest(between, shared) if shared else middle


def stack_of(book: Book, parts: Mapping[str, FoldedPart], places: Places) -> Stack:
    """Return the layers of the closed book, contents included."""
    levels = levels_of(book, parts, places)
    coats: dict[PanelKey, list[Coat]] = {}
    found = [
        *tape_coats(book, levels, places),
        *reinforcement_coats(book, levels, places),
        *_mat_coats(book, parts, levels),
        *contents_coats(book, parts, levels),
        *insert_coats(book, parts, levels, places),
    ]
    for key, coat in found:
        coats.setdefault(key, []).append(coat)
    links = tuple(_links(book, parts, places, levels))
    glued = tuple(_glued(book, levels))
    hung = dict(_hung(book, parts, levels))
    return Stack(levels, coats, glued, hung, links, parts, _boards(book, levels))


def without_contents(stack: Stack) -> Stack:
    """Return the same book with nothing in its pockets; the very same where there is nothing."""
    if not any(coat.kind == CONTENTS for coats in stack.coats.values() for coat in coats):
        return stack
    coats = {
        key: [coat for coat in coats if coat.kind != CONTENTS] for key, coats in stack.coats.items()
    }
    return replace(stack, coats=coats)


def _boards(book: Book, levels: Mapping[PanelKey, Level]) -> tuple[PanelKey, ...]:
    keys = {entry.key for entry in book.parts if entry.role == BOARDS}
    found = [level for level in levels.values() if level.key[0] in keys]
    return tuple(level.key for level in sorted(found, key=lambda level: level.rigid))


def _mat_coats(
    book: Book, parts: Mapping[str, FoldedPart], levels: Mapping[PanelKey, Level]
) -> Iterator[tuple[PanelKey, Coat]]:
    entries = {entry.key: entry for entry in book.parts}
    for key, host in hosts_of(book, parts).items():
        level = levels.get((host.part, host.panel))
        if level is not None and not entries[key].part.covers:
            yield level.key, mat_coat(entries[key], level, host.side)


def _glued(book: Book, levels: Mapping[PanelKey, Level]) -> Iterator[tuple[PanelKey, PanelKey]]:
    for join in book.joins:
        taped, target = (join.part, join.panel), (join.onto_part, join.onto_panel)
        if taped in levels and target in levels:
            yield (target, taped) if is_above(levels[target], join.onto_side) else (taped, target)


def _hung(
    book: Book, parts: Mapping[str, FoldedPart], levels: Mapping[PanelKey, Level]
) -> Iterator[tuple[PanelKey, PanelKey]]:
    """Yield the panels by which bound parts hang on others that are bound, or on the boards."""
    boards = {key for key, _ in _boards(book, levels)}
    bound = {key for key, folded in parts.items() if folded.part.bound is not None}
    for join in book.joins:
        if join.part not in bound or join.onto_part not in (bound | boards) - {join.part}:
            continue
        tab, target = (join.part, join.panel), (join.onto_part, join.onto_panel)
        if tab in levels and target in levels:
            yield tab, target


# ------------------------------------------------------------------ gussets and channels


def _links(
    book: Book,
    parts: Mapping[str, FoldedPart],
    places: Places,
    levels: Mapping[PanelKey, Level],
) -> Iterator[Link]:
    """Yield the panels that stand upright on the pages between two level panels."""
    outward = {(j.part, j.panel) for j in book.joins if j.part != j.onto_part}
    for key in dict.fromkeys(key for key, _ in levels):
        part = parts[key].part
        for panel, pose in places[key].items():
            if abs(float(pose.normal[2])) > 1 - LEVEL:
                continue
            beside = [levels[key, n] for n in neighbours(part, panel) if (key, n) in levels]
            yield from _link((key, panel), beside, outward)


def _link(wall: PanelKey, beside: Sequence[Level], outward: Iterable[PanelKey]) -> Iterator[Link]:
    if not beside:
        return
    lower, upper = (f(beside, key=lambda level: level.rigid) for f in (min, max))
    width = upper.rigid - lower.rigid
    if width > 0:
        is_channel = any(key in outward for key in (wall, lower.key, upper.key))
        yield Link(wall, lower.key, upper.key, width, is_channel)


def neighbours(part: Part, panel: str) -> Iterator[str]:
    """Yield the panels across the folds of *panel*."""
    for line in part.folds:
        names = line.key.panels()
        if panel in names:
            yield from names - {panel}


def is_half_turn(line: Line) -> bool:
    """Return whether two panels lie on each other at this fold."""
    return abs(float(line.angle_deg)) == HALF_TURN
