"""What turns about what when a flat part is folded: a tree of hinges from one panel outwards.

Panels that are one face, or that a perforation holds together, move as one. A
curved fold is drawn, not simulated: a panel that hangs on nothing else stays in
the plane of its neighbour. Slits hold nothing.
"""

from __future__ import annotations

from collections import defaultdict, deque
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from enum import Enum

from .errors import UsageError
from .part import FoldKey, Line, LineKind
from .paths import Path, Point, bounds_of, encloses, flattened

#: How far beside the middle of a fold to look for its panels, mm. The middle of
#: a panel would mislead where it is an L or a U.
LOOK = 1e-4

#: A vertex this near to the axis (mm) lies on it; exact coordinates give exactly 0.
ON_AXIS = 1e-6


@dataclass(frozen=True, slots=True)
class Hinge:
    """A fold between two panels, directed so that *child* lies on its left.

    *points* are the vertices of all its pieces; where its panels hang together
    they coincide in both panels' poses.
    """

    key: FoldKey
    parent: str
    child: str
    start: Point
    end: Point
    points: tuple[Point, ...]

    @property
    def is_on_one_line(self) -> bool:
        """Whether all pieces lie on the line that the panels turn about."""
        return len(self.points) == 2 or all(self._distance(p) <= ON_AXIS for p in self.points)

    def _distance(self, point: Point) -> float:
        dx, dy = self.end.x - self.start.x, self.end.y - self.start.y
        cross = dx * (point.y - self.start.y) - dy * (point.x - self.start.x)
        return abs(float(cross)) / max(abs(float(dx)), abs(float(dy)))


@dataclass(frozen=True, slots=True)
class Link:
    """What places *child* after *parent*; without a hinge both move as one."""

    parent: str
    child: str
    hinge: Hinge | None


@dataclass(frozen=True, slots=True)
class Skeleton:
    """The hinges of a part: *links* place every panel, *loops* must close by themselves."""

    root: str
    links: tuple[Link, ...]
    loops: tuple[Hinge, ...]


def skeleton(
    panels: Mapping[str, Path],
    lines: Sequence[Line],
    root: str = "",
    rigid: Iterable[tuple[str, str]] = (),
) -> Skeleton:
    """Return the hinges of a part, breadth first from *root* (without one the largest panel).

    *panels* are outlines by name; *rigid* are pairs of panels that are one face
    although they have two names. Raises UsageError where the part falls apart.
    """
    ties = _ties(lines, rigid)
    _refuse_unknown(panels, ties, root)
    first = root or _largest(panels)
    chosen = _grow(first, ties)
    _refuse_loose(panels, first, chosen)
    links = [Link(tie.parent, tie.child, _hinge_of(tie, panels)) for tie in chosen]
    uneven = [link.hinge for link in links if link.hinge and not link.hinge.is_on_one_line]
    return Skeleton(first, tuple(links), (*uneven, *_loops(ties, chosen, panels)))


def loose_panels(
    panels: Iterable[str],
    lines: Sequence[Line],
    root: str,
    rigid: Iterable[tuple[str, str]] = (),
) -> tuple[str, ...]:
    """Return the panels that hang on *root* by nothing; none where the part hangs together."""
    return _loose(panels, root, _grow(root, _ties(lines, rigid)))


class _Hold(Enum):
    """How one panel hangs on another, in the order in which it is followed."""

    ONE_FACE = "one face"
    FOLDED = "folded"
    BENT = "bent"


@dataclass(frozen=True, slots=True)
class _Tie:
    """What could place *child* after *parent*: *number* counts lines and pairs."""

    number: int
    hold: _Hold
    parent: str
    child: str
    line: Line | None = None


def _ties(lines: Sequence[Line], rigid: Iterable[tuple[str, str]]) -> list[_Tie]:
    """Return all that holds panels together, in the order given."""
    ties = [_Tie(i, _Hold.ONE_FACE, *pair) for i, pair in enumerate(rigid)]
    for line in lines:
        hold = _hold_of(line)
        if hold is not None:
            ties.append(_Tie(len(ties), hold, line.key.first, line.key.second, line))
    return ties


def _hold_of(line: Line) -> _Hold | None:
    if line.kind is LineKind.SLIT:
        return None
    if line.kind is LineKind.PERFORATE:
        return _Hold.ONE_FACE
    if not line.is_straight:
        return _Hold.BENT
    return _Hold.FOLDED if _axis(line) else None


def _axis(line: Line) -> tuple[Point, Point] | None:
    """Return the ends of the first piece that has a length."""
    for piece in line.pieces:
        ends = piece.vertices[0].point, piece.vertices[-1].point
        if ends[0] != ends[1]:
            return ends
    return None


def _grow(root: str, ties: Sequence[_Tie]) -> list[_Tie]:
    """Return the ties of a tree from *root* in order; one hold is used up before the next."""
    around: dict[str, list[_Tie]] = defaultdict(list)
    for tie in ties:
        around[tie.parent].append(tie)
        around[tie.child].append(_Tie(tie.number, tie.hold, tie.child, tie.parent, tie.line))
    placed, chosen = {root}, []
    waiting = {hold: deque(tie for tie in around[root] if tie.hold is hold) for hold in _Hold}
    while (link := _next(waiting)) is not None:
        if link.child not in placed:
            placed.add(link.child)
            chosen.append(link)
            for tie in around[link.child]:
                waiting[tie.hold].append(tie)
    return chosen


def _next(waiting: Mapping[_Hold, deque[_Tie]]) -> _Tie | None:
    for hold in _Hold:
        if waiting[hold]:
            return waiting[hold].popleft()
    return None


def _loops(
    ties: Sequence[_Tie], chosen: Sequence[_Tie], panels: Mapping[str, Path]
) -> Iterator[Hinge]:
    """Yield the folds that the tree did without."""
    taken = {tie.number for tie in chosen}
    for tie in ties:
        hinge = None if tie.number in taken else _hinge_of(tie, panels)
        if hinge:
            yield hinge


def _hinge_of(tie: _Tie, panels: Mapping[str, Path]) -> Hinge | None:
    """Return the hinge of a straight fold; of anything else None."""
    if tie.line is None or tie.hold is not _Hold.FOLDED:
        return None
    start, end = _axis(tie.line) or (Point(0, 0), Point(0, 0))
    if not _lies_left(tie, start, end, panels):
        start, end = end, start
    points = tuple(point for piece in tie.line.pieces for point in piece.points)
    return Hinge(tie.line.key, tie.parent, tie.child, start, end, points)


def _lies_left(tie: _Tie, start: Point, end: Point, panels: Mapping[str, Path]) -> bool:
    """Return whether the child lies on the left of the line from *start* to *end*.

    Where looking beside the line decides nothing (an edge that was drawn back
    from its fold), the middles of the two panels do.
    """
    left, right = _beside(start, end)
    for name, ours, theirs in ((tie.child, left, right), (tie.parent, right, left)):
        is_here, is_there = encloses(panels[name], ours), encloses(panels[name], theirs)
        if is_here != is_there:
            return is_here
    parent, child = _middle(panels[tie.parent]), _middle(panels[tie.child])
    dx, dy = float(end.x - start.x), float(end.y - start.y)
    return dx * (child[1] - parent[1]) - dy * (child[0] - parent[0]) > 0


def _beside(start: Point, end: Point) -> tuple[tuple[float, float], tuple[float, float]]:
    """Return the places to look at, left and right of the middle."""
    x0, y0, x1, y1 = float(start.x), float(start.y), float(end.x), float(end.y)
    scale = LOOK / max(abs(x1 - x0), abs(y1 - y0))
    dx, dy = (x1 - x0) * scale, (y1 - y0) * scale
    x, y = (x0 + x1) / 2, (y0 + y1) / 2
    return (x - dy, y + dx), (x + dy, y - dx)


def _middle(outline: Path) -> tuple[float, float]:
    box = bounds_of([outline])
    return float(box.left + box.right) / 2, float(box.bottom + box.top) / 2


def _largest(panels: Mapping[str, Path]) -> str:
    """Return the panel with the largest area; of equal ones that which comes first."""
    return max(panels, key=lambda name: round(_doubled_area(panels[name]), 6))


def _doubled_area(outline: Path) -> float:
    """Return twice the area in floats, which are enough to compare and much faster."""
    corners = flattened(outline)
    turned = [*corners[1:], corners[0]]
    return abs(sum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in zip(corners, turned, strict=True)))


def _loose(panels: Iterable[str], root: str, chosen: Sequence[_Tie]) -> tuple[str, ...]:
    held = {root, *(tie.child for tie in chosen)}
    return tuple(name for name in panels if name not in held)


def _refuse_loose(panels: Iterable[str], root: str, chosen: Sequence[_Tie]) -> None:
    loose = _loose(panels, root, chosen)
    if loose:
        names = ", ".join(loose)
        raise UsageError(f"the part falls apart: {names} and {root} hang together by nothing")


def _refuse_unknown(panels: Mapping[str, Path], ties: Sequence[_Tie], root: str) -> None:
    named = [name for tie in ties for name in (tie.parent, tie.child)] + [root] * bool(root)
    unknown = sorted(set(named) - set(panels))
    if unknown or not panels:
        raise UsageError(f"no such panel to fold: {', '.join(unknown) or 'the part has none'}")
