"""The room inside each pocket, and what closes each of its sides.

The cavity is what front and back have in common, less what stands between them.
Where some of its border has neither wall nor tape, the pocket is open. All of this
is seen in the flat coordinates of the front (mm, floats). Outlines count without
their holes: a window is no mouth.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import groupby, pairwise
from math import dist
from typing import TYPE_CHECKING, Any, NamedTuple

from ..part import Edge
from ..paths import Bounds, Point
from .cavity_walls import Closing, Ring, Walls, walls_of
from .folded_part import FoldedPart
from .lids import Flat, Lids, lids_of, part_pockets
from .pockets import Pocket

if TYPE_CHECKING:
    from shapely import Polygon

#: How thick a wall is taken, half of it on each side, mm (0.012 in).
WALL = 0.3

#: What is no wider than this lets nothing out, mm: tape ends so far from an edge at most.
LEAK = 1.6

#: A stretch of the border that is open for less than this holds all the same, mm (0.2 in).
LEAST_OPENING = 5.08

_TOUCHING = 0.05  #: mm; what lies nearer to a wall is on it

SIDES = ("bottom", "right", "top", "left")
_STRENGTH = {closing: number for number, closing in enumerate(Closing)}


NOWHERE = Bounds(0, 0, 0, 0)


class Opening(NamedTuple):
    """A stretch of a side without a wall: from its beginning to its end, and its middle."""

    length: float
    middle: Point  #: on the front


@dataclass(frozen=True, slots=True)
class CavitySide:
    """One side of a cavity, named as the front lies on the flat part: left, right, top or bottom.

    *openings* are those longer than `LEAST_OPENING`, in their order round the
    pocket, counter-clockwise; *length* is the distance of the side's ends.
    """

    side: str
    closing: Closing
    length: float
    openings: tuple[Opening, ...] = ()


@dataclass(frozen=True)
class Cavity:
    """The room of one pocket.

    *pocket* is None where the front has no back at all. Without a back, or where
    front and back have nothing in common, there are no sides.
    """

    mouth: Edge
    pocket: Pocket | None
    depth: float = 0.0
    sides: Mapping[str, CavitySide] = field(default_factory=dict)
    frame: Bounds = NOWHERE  #: around what front and back have in common
    free: Bounds = NOWHERE  #: around the room that walls and tape leave of it


def cavities_of(
    folded: FoldedPart, around: Mapping[str, tuple[Ring, ...]] | None = None
) -> tuple[Cavity, ...]:
    """Return the cavity of each pocket of a part, in the order in which it declares their mouths.

    *around* are panels of other parts that stand beside it in the book, by front.
    """
    pockets = {pocket.front: pocket for pocket in part_pockets(folded)}
    return tuple(
        _cavity(folded, mouth, pockets[mouth.panel], (around or {}).get(mouth.panel, ()))
        if mouth.panel in pockets
        else Cavity(mouth, None)
        for mouth in folded.part.mouths
    )


def _cavity(folded: FoldedPart, mouth: Edge, pocket: Pocket, around: Iterable[Ring]) -> Cavity:
    lids = lids_of(folded, pocket)
    seen: dict[Walls, _Room] = {}
    for walls in walls_of(folded, lids, around):
        if walls not in seen:
            seen[walls] = _cut_room(lids, walls)
    rooms = [room for room in seen.values() if room.sides]
    if not rooms:
        return Cavity(mouth, pocket, lids.depth)
    sides = {name: _weakest(room.sides[name] for room in rooms) for name in SIDES}
    free = _shared([room.free for room in rooms])
    return Cavity(mouth, pocket, lids.depth, sides, Bounds(*lids.room.bounds), free)


def _shared(boxes: Sequence[Bounds]) -> Bounds:
    lefts, bottoms, rights, tops = zip(*boxes, strict=True)
    return Bounds(max(lefts), max(bottoms), min(rights), min(tops))


def _weakest(sides: Iterable[CavitySide]) -> CavitySide:
    """Return a side as it is at the depth where it holds least."""
    return max(sides, key=lambda s: (_STRENGTH[s.closing], _open_length(s)))


def _open_length(side: CavitySide) -> float:
    return sum(opening.length for opening in side.openings)


# ------------------------------------------------------------------ the border of a cavity


class _Stretch(NamedTuple):
    """A piece of the border: its ends, and what closes it."""

    start: Flat
    end: Flat
    closing: Closing


class _Room(NamedTuple):
    """The room at one depth: its sides, none where there is no room, and its bounds."""

    sides: Mapping[str, CavitySide]
    free: Bounds


def _cut_room(lids: Lids, walls: Walls) -> _Room:
    """Return the room between *walls*."""
    from shapely import union_all

    shapes = [wall.shape() for wall in walls]
    room = _room(lids, walls, shapes)
    if room is None:
        return _Room({}, NOWHERE)
    ring = _ring(room)
    corners = _corners(ring)
    solid = union_all(shapes).buffer(LEAK, quad_segs=2)
    found = {}
    for number, name in enumerate(SIDES):
        points = _between(ring, corners[number], corners[(number + 1) % len(SIDES)])
        found[name] = _side(name, list(_stretches(points, walls, shapes)), solid)
    return _Room(found, Bounds(*room.bounds))


def _room(lids: Lids, walls: Walls, shapes: Sequence[Any]) -> Polygon | None:
    """Return the largest room that walls leave between the lids; a strip beside tape is none."""
    from shapely import get_parts, union_all

    room = lids.room.difference(union_all(shapes).buffer(WALL, quad_segs=2))
    if any(wall.is_tape for wall in walls):
        room = room.buffer(-LEAK, join_style="mitre").buffer(LEAK, join_style="mitre")
    pieces = [piece for piece in get_parts(room) if piece.area > 1]
    return max(pieces, key=lambda piece: piece.area, default=None)


def _ring(room: Polygon) -> list[Flat]:
    """Return the corners of the outer border of *room*, counter-clockwise."""
    points = [(x, y) for x, y, *_ in room.exterior.coords[:-1]]
    return points if room.exterior.is_ccw else points[::-1]


def _corners(ring: Sequence[Flat]) -> list[int]:
    """Return which points of *ring* are its lower left, lower right, upper right, upper left."""
    ways = ((-1, -1), (1, -1), (1, 1), (-1, 1))
    indices = range(len(ring))
    return [max(indices, key=lambda i: ring[i][0] * x + ring[i][1] * y) for x, y in ways]


def _between(ring: Sequence[Flat], start: int, end: int) -> list[Flat]:
    count = (end - start) % len(ring)
    return [ring[(start + step) % len(ring)] for step in range(count + 1)]


def _stretches(points: Sequence[Flat], walls: Walls, shapes: Sequence[Any]) -> Iterator[_Stretch]:
    """Yield the pieces between *points* with the strongest of what closes each."""
    from shapely import distance
    from shapely import points as places

    if len(points) < 2:
        return
    ends = list(pairwise(points))
    middles = places([((a[0] + b[0]) / 2, (a[1] + b[1]) / 2) for a, b in ends])
    near = [distance(middles, shape) < WALL + _TOUCHING for shape in shapes]
    for number, (start, end) in enumerate(ends):
        closings = [w.closing for w, is_near in zip(walls, near, strict=True) if is_near[number]]
        yield _Stretch(start, end, min(closings, key=_STRENGTH.__getitem__, default=Closing.OPEN))


def _side(name: str, stretches: Sequence[_Stretch], solid: Any) -> CavitySide:
    length = dist(stretches[0].start, stretches[-1].end) if stretches else 0.0
    openings = tuple(_openings(stretches, solid))
    if openings:
        return CavitySide(name, Closing.OPEN, length, openings)
    lengths = dict.fromkeys(Closing, 0.0)
    for stretch in stretches:
        lengths[stretch.closing] += dist(stretch.start, stretch.end)
    weakest = next(
        (c for c in (Closing.LOOSE, Closing.STANDING) if lengths[c] > LEAST_OPENING),
        Closing.SECURED,
    )
    return CavitySide(name, weakest, length)


def _openings(stretches: Sequence[_Stretch], solid: Any) -> Iterator[Opening]:
    """Yield the open runs; what a wall stands so near to that nothing slips through is closed."""
    from shapely import LineString

    for closing, group in groupby(stretches, key=lambda stretch: stretch.closing):
        run = list(group)
        if closing is not Closing.OPEN:
            continue
        line = LineString([run[0].start, *(stretch.end for stretch in run)])
        if line.difference(solid).length > LEAST_OPENING:
            middle = line.interpolate(0.5, normalized=True)
            yield Opening(dist(run[0].start, run[-1].end), Point(middle.x, middle.y))
