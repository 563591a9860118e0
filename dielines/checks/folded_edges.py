"""What lies inside a fold: between two panels that a fold, or a gusset, turns onto each other."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from ..folding.folded_part import FoldedPart
from ..landing import land
from ..part import Line, Part
from ..paths import Path, Point
from ..rigid import Pose

LEVEL = 1e-9  #: share of a normal by which panels may lean and still be parallel


@dataclass(frozen=True, slots=True)
class Nook:
    """The room inside a fold: its two panels, the fold at the first, and a wall between, if any."""

    first: str
    second: str
    line: Line
    wall: str = ""  #: empty where one fold alone turns the panels onto each other


@dataclass(frozen=True, slots=True)
class Inside:
    """A panel in a nook: its outline, and its own folds, in the drawing of the nook's first panel."""

    panel: str
    outline: Path
    folds: tuple[tuple[str, Path], ...]  #: with the panel across each


def nooks(folded: FoldedPart) -> Iterator[Nook]:
    """Yield every nook of a folded part, those without a wall first."""
    part = folded.part
    straight = [line for line in part.folds if line.is_straight and line.angle_deg]
    for line in straight:
        first, second = line.key.first, line.key.second
        if abs(float(line.angle_deg)) == 180:
            yield Nook(first, second, line)
    for panel in part.panels:
        beside = [line for line in straight if panel.name in line.key.panels()]
        if len(beside) > 1:
            yield from _walled(folded, panel.name, beside)


def _walled(folded: FoldedPart, wall: str, beside: list[Line]) -> Iterator[Nook]:
    found = [(_across(line, wall), line) for line in beside]
    standing = folded.poses[wall]
    lying = [(n, x) for n, x in found if _lean(folded.poses[n], standing) < LEVEL]
    for number, (first, line) in enumerate(lying):
        for second, _ in lying[number + 1 :]:
            if first != second and folded.side_of(first, second):
                yield Nook(first, second, line, wall)


def _across(line: Line, panel: str) -> str:
    return line.key.second if line.key.first == panel else line.key.first


def _lean(a: Pose, b: Pose) -> float:
    """Return the cosine of the angle between two panels, without its sign."""
    return abs(sum(float(x) * float(y) for x, y in zip(a.normal, b.normal, strict=True)))


def inside(folded: FoldedPart, nook: Nook) -> Iterator[Inside]:
    """Yield the panels that lie between the two of a nook."""
    first, second = nook.first, nook.second
    up, down = folded.side_of(first, second), folded.side_of(second, first)
    for name in folded.outlines:
        if name in (first, second, nook.wall) or not up:
            continue
        if folded.side_of(first, name) == up and folded.side_of(second, name) == down:
            own = [line for line in folded.part.folds if name in line.key.panels()]
            if not any(nook.wall in line.key.panels() for line in own):
                yield _landed(folded, first, name, own)


def _landed(folded: FoldedPart, onto: str, name: str, own: list[Line]) -> Inside:
    def there(path: Path) -> Path:
        return land(folded.poses[name], folded.poses[onto], path).path

    folds = [(_across(line, name), there(piece)) for line in own for piece in line.pieces]
    return Inside(name, there(folded.outlines[name]), tuple(folds))


@dataclass(frozen=True, slots=True)
class Ruler:
    """Distances from a fold: *depth* to the side of its panel, *along* it; mm."""

    start: tuple[float, float]
    direction: tuple[float, float]
    length: float
    sign: float

    def depth(self, point: Point) -> float:
        """Return how far inside of the fold a point lies; below 0 beyond it."""
        dx, dy = float(point[0]) - self.start[0], float(point[1]) - self.start[1]
        return self.sign * (self.direction[0] * dy - self.direction[1] * dx)

    def along(self, point: Point) -> float:
        """Return how far along the fold a point lies, 0 to *length* beside it."""
        dx, dy = float(point[0]) - self.start[0], float(point[1]) - self.start[1]
        return self.direction[0] * dx + self.direction[1] * dy

    def beside(self, a: Point, b: Point) -> float:
        """Return how much of the stretch from *a* to *b* lies beside the fold."""
        low, high = sorted((self.along(a), self.along(b)))
        return min(high, self.length) - max(low, 0.0)


def ruler_of(part: Part, nook: Nook) -> Ruler:
    """Return the distances from the fold of a nook, in the drawing of its first panel."""
    points = [(float(x), float(y)) for piece in nook.line.pieces for x, y in piece.points]
    start, end = min(points), max(points)
    length = math.dist(start, end)
    direction = ((end[0] - start[0]) / length, (end[1] - start[1]) / length)
    plain = Ruler(start, direction, length, 1.0)
    deepest = max(map(plain.depth, part.panel(nook.first).outline.points), key=abs)
    return plain if deepest > 0 else Ruler(start, direction, length, -1.0)
