"""The order of layers of folds that no step declares: every sequence of them is tried.

Declared steps come after them, in their order: what a binding adds to a page is
folded last.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from ..part import FoldKey, Line, Part, Step
from ..poses import CLOSED
from .arrival import Angles, Arrival, Landing, Move, moves_of, start_and_end
from .meeting import Flat, Sheet, joined
from .piercing import pierced

#: Sequences of more units than this (720 of six) are not tried: the steps must be declared.
MOST_UNITS = 6
#: Nor are those of parts of so many panels that more pairs than this would be looked at, all
#: steps of all sequences together: some tenths of a second.
MOST_PAIRS = 20_000
NEAR = 1e-6  #: mm
QUARTER_TURN = 90
#: shares of a step at which loops must close
SHARES = (Fraction(3, 10), Fraction(6, 10), Fraction(9, 10), Fraction(1))

Done = frozenset[int]
"""The units that are folded already."""


def needs_sequences(part: Part) -> bool:
    """Return whether nothing says in which order the folds of *part* are made, and trying helps."""
    units = len(undeclared_units(part))
    return 1 < units <= MOST_UNITS and pairs_looked_at(units, len(part.panels)) <= MOST_PAIRS


def undeclared_units(part: Part) -> list[Step]:
    """Return the units of those folds that no step names."""
    named = {key for step in part.steps for key, _ in step.angles_deg}
    free = [line for line in part.folds if line.key not in named]
    return units_of(replace(part, lines=tuple(free)))


def pairs_looked_at(units: int, panels: int) -> int:
    """Return how many pairs of panels are looked at when every sequence of *units* is tried.

    Each unit once after each set of others: with 6 units 192 steps.

    >>> pairs_looked_at(6, 9)
    6912
    """
    return (units << units - 1) * (panels * (panels - 1) // 2)


@dataclass(frozen=True)
class Sequences:
    """All sequences of a part's units: the first *free* ones in any order, the others after them."""

    sheet: Sheet
    units: Sequence[Step]
    free: int

    @classmethod
    def of(cls, part: Part, sheet: Sheet) -> Sequences:
        """Return the sequences of *part*."""
        units = undeclared_units(part)
        return cls(sheet, (*units, *part.steps), len(units))

    def landings(self) -> Iterator[Landing]:
        """Yield what the sequences that can be folded bring about, each outcome once.

        Sequences that have folded the same units to the same layers go on as one.
        """
        reached: dict[Done, dict[object, Landing]] = {frozenset(): {(): Landing()}}
        for step in range(1, len(self.units) + 1):
            further: dict[Done, dict[object, Landing]] = {}
            for done, landings in reached.items():
                for unit, moves in self._going_on(done):
                    kept = further.setdefault(done | {unit}, {})
                    for landing in landings.values():
                        after = landing.after(moves, step)
                        kept.setdefault(_layers(after), after)
            reached = further
        for landings in reached.values():
            yield from landings.values()

    def _going_on(self, done: Done) -> Iterator[tuple[int, Sequence[Move]]]:
        """Yield the units that can be folded after those *done*, and what each brings about."""
        next_ones = range(self.free) if len(done) < self.free else [len(done)]
        for unit in next_ones:
            if unit not in done:
                moves = self._tried(self._angles(done), self._angles(done | {unit}))
                if moves is not None:
                    yield unit, moves

    def _angles(self, done: Done) -> Angles:
        folded = dict.fromkeys(
            (link.hinge.key for link in self.sheet.bones.links if link.hinge), Fraction(0)
        )
        folded |= {hinge.key: Fraction(0) for hinge in self.sheet.bones.loops}
        return folded | dict(
            pair for number in sorted(done) for pair in self.units[number].angles_deg
        )

    def _tried(self, start: Angles, end: Angles) -> Sequence[Move] | None:
        if self.sheet.bones.loops and not all(
            closes(self.sheet, _between(start, end, share)) for share in SHARES
        ):
            return None
        motions = start_and_end(self.sheet, start, end)
        if any(pierced(self.sheet, motions.moved, 0)):
            return None
        moves = list(moves_of(self.sheet, motions))
        return None if any(move.how is Arrival.THROUGH for move in moves) else moves


def _layers(landing: Landing) -> object:
    return frozenset(landing.sides.items()), frozenset(landing.unclear)


def _between(start: Angles, end: Angles, share: Fraction) -> Angles:
    return {key: angle + (end[key] - angle) * share for key, angle in start.items()}


def closes(sheet: Sheet, angles: Angles) -> bool:
    """Return whether all loops of a part close with its folds at *angles*."""
    if not sheet.bones.loops:
        return True
    placed = sheet.motions(angles)
    for hinge in sheet.bones.loops:
        declared = joined(placed[hinge.parent], sheet.turn(hinge.key, angles))
        parent, child = placed[hinge.parent], placed[hinge.child]
        corners = sheet.corners[hinge.child]
        if any(math.dist(declared.at(*c), child.at(*c)) > CLOSED for c in corners):
            return False
        ends = [(float(x), float(y)) for x, y in hinge.points]
        if any(math.dist(parent.at(*end), child.at(*end)) > CLOSED for end in ends):
            return False
    return True


def units_of(part: Part) -> list[Step]:
    """Return what hands fold at once, a step each: folds on one line, and both folds of a wall.

    A wall is a panel between two folds of 90 degrees that give the same way, narrower
    than the panels beside it.
    """
    groups: list[list[Line]] = []
    for line in part.folds:
        if not line.angle_deg or not line.is_straight:
            continue
        joined = [g for g in groups if any(_is_one_unit(part, line, other) for other in g)]
        groups = [group for group in groups if group not in joined]
        groups.append([*(other for group in joined for other in group), line])
    return [Step(tuple((line.key, line.angle_deg) for line in group)) for group in groups]


def _is_one_unit(part: Part, line: Line, other: Line) -> bool:
    """Return whether two folds are made at once.

    On one line they are whichever way each gives: through two layers, the fold of
    the upper one gives the other way.
    """
    if abs(line.angle_deg) != abs(other.angle_deg):
        return False
    (a, b, c), (d, e, f) = _axis(line), _axis(other)
    if abs(a * e - b * d) > NEAR:
        return False
    if abs(c - f) <= NEAR:
        return True
    is_quarter = line.angle_deg == other.angle_deg and abs(line.angle_deg) == QUARTER_TURN
    return is_quarter and _is_wall(part, line.key, other.key, (a, b), abs(c - f))


def _is_wall(part: Part, key: FoldKey, other: FoldKey, normal: Flat, width: float) -> bool:
    """Return whether two folds share a panel that is narrower across them than its neighbours."""
    shared = key.panels() & other.panels()
    beside = key.panels() ^ other.panels()
    return bool(shared) and all(_extent(part, name, normal) > width + NEAR for name in beside)


def _extent(part: Part, panel: str, normal: Flat) -> float:
    """Return how far a panel reaches along a direction."""
    corners = part.panel(panel).outline.points
    places = [normal[0] * float(x) + normal[1] * float(y) for x, y in corners]
    return max(places) - min(places)


def _axis(line: Line) -> tuple[float, float, float]:
    """Return the unit normal of a fold's line, its first number not negative, and its distance."""
    points = [point for piece in line.pieces for point in piece.points]
    start, end = min(points), max(points)
    dx, dy = float(end.x - start.x), float(end.y - start.y)
    length = float((dx * dx + dy * dy) ** 0.5) or 1.0
    a, b = dy / length, -dx / length
    return a, b, a * float(start.x) + b * float(start.y)
