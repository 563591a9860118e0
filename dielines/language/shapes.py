"""A panel while it is being edited: a ring of corners whose edges remember their side.

An edge that lies on the panel's bounding rectangle is called by that side,
``top``, ``right``, ``bottom`` or ``left``; a cut made later has no name. So a
corner keeps its name when an edit moves it, and true arcs stay arcs.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from ..documents import Refusal
from ..paths import Bounds, Number, Path, Point, Vertex, bounds_of, distance, magnitude

SIDES = ("top", "right", "bottom", "left")
OPPOSITE = {"top": "bottom", "bottom": "top", "left": "right", "right": "left"}
CORNERS = ("top left", "top right", "bottom right", "bottom left")
#: counter-clockwise, the side that arrives at a corner and the side that leaves it
_AROUND = {
    "bottom right": ("bottom", "right"),
    "top right": ("right", "top"),
    "top left": ("top", "left"),
    "bottom left": ("left", "bottom"),
}
#: counter-clockwise, the side after each
_AFTER = {"bottom": "right", "right": "top", "top": "left", "left": "bottom"}
_BEFORE = {after: before for before, after in _AFTER.items()}
#: unit vectors pointing from a side into the panel
INWARD: dict[str, tuple[int, int]] = {
    "top": (0, -1),
    "bottom": (0, 1),
    "left": (1, 0),
    "right": (-1, 0),
}
TOUCH = 1e-6  #: mm; closer than this is the same place


@dataclass(frozen=True, slots=True)
class Corner:
    """A corner of a ring with the bulge and the side of the edge that leaves it."""

    x: Number
    y: Number
    bulge: Number = Fraction(0)
    side: str = ""

    @property
    def point(self) -> Point:
        """The place of the corner."""
        return Point(self.x, self.y)


@dataclass(frozen=True, slots=True)
class Shape:
    """A panel being edited: outer *ring*, counter-clockwise, and *holes*."""

    name: str
    ring: tuple[Corner, ...]
    box: Bounds  #: of the untouched panel; edits measure from it
    holes: tuple[Path, ...] = ()

    def outline(self) -> Path:
        """Return the ring as a path, corners that do nothing left out."""
        return Path(tuple(Vertex(c.x, c.y, c.bulge) for c in without_idle_corners(self.ring)))


def shape_from_path(name: str, outline: Path, holes: Iterable[Path] = ()) -> Shape:
    """Return the shape of a counter-clockwise *outline*, its outermost edges named."""
    box = bounds_of([outline])
    ring = tuple(
        Corner(s.start.x, s.start.y, s.bulge, "" if s.bulge else _side_of(s.start, s.end, box))
        for s in outline.segments()
    )
    return Shape(name, ring, box, tuple(holes))


def _side_of(start: Point, end: Point, box: Bounds) -> str:
    if start.x == end.x:
        return "right" if start.x == box.right else "left" if start.x == box.left else ""
    if start.y == end.y:
        return "top" if start.y == box.top else "bottom" if start.y == box.bottom else ""
    return ""


def without_idle_corners(ring: Sequence[Corner]) -> tuple[Corner, ...]:
    """Return *ring* without corners that lie on the straight line between their neighbours."""
    kept = _without_empty_pieces(ring)
    return tuple(c for i, c in enumerate(kept) if not _is_idle(kept, i))


def _is_idle(ring: Sequence[Corner], i: int) -> bool:
    """Return whether the way goes straight on at a corner."""
    return _straightness(ring, i) > 0


def _is_spike(ring: Sequence[Corner], i: int) -> bool:
    """Return whether the way turns straight back at a corner."""
    return _straightness(ring, i) < 0


def _straightness(ring: Sequence[Corner], i: int) -> int:
    """Return 1 where the way goes straight on at a corner, -1 where it goes straight back, else 0."""
    before, here, after = ring[i - 1], ring[i], ring[(i + 1) % len(ring)]
    if before.bulge or here.bulge:
        return 0
    ax, ay = here.x - before.x, here.y - before.y
    bx, by = after.x - here.x, after.y - here.y
    cross, along = ax * by - ay * bx, ax * bx + ay * by
    tolerance = 0.0 if isinstance(cross, Fraction) else 1e-9 * max(1.0, abs(float(along)))
    if magnitude(cross) > tolerance:
        return 0
    return (along > 0) - (along < 0)


def corner_index(shape: Shape, name: str) -> int:
    """Return where in the ring the corner called *name* stands; raises Refusal.

    Where a taper made an edge vanish, the tip is what both its corners have become.
    """
    sides = {corner.side for corner in shape.ring}
    arriving, leaving = _AROUND[name]
    arriving = arriving if arriving in sides else _BEFORE[arriving]
    leaving = leaving if leaving in sides else _AFTER[leaving]
    for i, corner in enumerate(shape.ring):
        if corner.side == leaving and shape.ring[i - 1].side == arriving:
            return i
    raise Refusal("no-corner", f"{shape.name!r} has no {name} corner any more")


def with_corners(
    shape: Shape, names: Sequence[str], change: Callable[[Shape, str], Shape]
) -> Shape:
    """Return *shape* with each named corner changed, a tip with two names once; raises Refusal."""
    places = {name: shape.ring[corner_index(shape, name)].point for name in names}
    treated: set[Point] = set()
    for name, place in places.items():
        if place not in treated:
            shape = change(shape, name)
            treated.add(place)
    return shape


def edge_indices(shape: Shape, side: str) -> list[int]:
    """Return the indices of the pieces of the edge called *side*; raises Refusal when none is left."""
    found = [i for i, corner in enumerate(shape.ring) if corner.side == side]
    if not found:
        raise Refusal("no-edge", f"{shape.name!r} has no {side} edge any more")
    return found


def edge_ends(shape: Shape, side: str) -> tuple[int, int]:
    """Return the indices of the corners at both ends of an edge, top or left first.

    The corners are found by the pieces of the edge itself, so that an end that
    was clipped or tapered is still found.
    """
    pieces = edge_indices(shape, side)  # in order: no edge runs over the end of the ring
    start, end = pieces[0], (pieces[-1] + 1) % len(shape.ring)
    # counter-clockwise, the top runs to the left, the right runs up, the left runs down
    return (end, start) if side in ("top", "right") else (start, end)


def moved_corners(shape: Shape, places: dict[int, Point]) -> Shape:
    """Return *shape* with the corners at these indices moved; corners that meet become one."""
    ring = [
        replace(c, x=places[i].x, y=places[i].y) if i in places else c
        for i, c in enumerate(shape.ring)
    ]
    count = len(ring)
    merged = [
        corner
        for i, corner in enumerate(ring)
        if corner.bulge or corner.point != ring[(i + 1) % count].point
    ]
    return replace(shape, ring=tuple(merged))


def replaced_corner(shape: Shape, index: int, corners: Sequence[Corner]) -> Shape:
    """Return *shape* with *corners* in the place of one corner."""
    ring = shape.ring[:index] + tuple(corners) + shape.ring[index + 1 :]
    return replace(shape, ring=ring)


def spliced(shape: Shape, start: Point, end: Point, inner: Sequence[Corner]) -> Shape:
    """Return *shape* with its edge from *start* to *end* replaced by a cut.

    *inner* are the corners of the cut: the first stands at *start*, the last
    ends at *end*. Both ends must lie on one straight edge; raises Refusal.
    """
    count = len(shape.ring)
    for i, corner in enumerate(shape.ring):
        after = shape.ring[(i + 1) % count]
        if not corner.bulge and _in_order(corner.point, start, end, after.point):
            rest = Corner(end.x, end.y, Fraction(0), corner.side)
            ring = (*shape.ring[: i + 1], *inner, rest, *shape.ring[i + 1 :])
            return replace(shape, ring=_without_spikes(_without_empty_pieces(ring)))
    raise Refusal("off-edge", f"does not lie on a straight edge of {shape.name!r}")


def _without_empty_pieces(ring: Sequence[Corner]) -> tuple[Corner, ...]:
    count = len(ring)
    return tuple(c for i, c in enumerate(ring) if c.bulge or c.point != ring[(i + 1) % count].point)


def _without_spikes(ring: tuple[Corner, ...]) -> tuple[Corner, ...]:
    """Return *ring* without ways out and straight back, as a slot at the end of a fold leaves."""
    kept = ring
    while (i := next((i for i in range(len(kept)) if _is_spike(kept, i)), -1)) >= 0:
        kept = _without_empty_pieces(_without_spike(kept, i))
    return kept


def _without_spike(ring: tuple[Corner, ...], i: int) -> tuple[Corner, ...]:
    """Return *ring* without one corner; what is left of the longer way keeps its side."""
    before, here, after = ring[i - 1], ring[i], ring[(i + 1) % len(ring)]
    if distance(before.point, here.point) < distance(here.point, after.point):
        before = replace(before, side=here.side)
    place = (i - 1) % len(ring)
    return tuple(before if j == place else corner for j, corner in enumerate(ring) if j != i)


def _in_order(a: Point, p: Point, q: Point, b: Point) -> bool:
    """Return whether a, p, q, b follow one another on a straight line."""
    length = math.hypot(b.x - a.x, b.y - a.y)
    if length < TOUCH:
        return False
    ux, uy = (b.x - a.x) / length, (b.y - a.y) / length
    along = [(s.x - a.x) * ux + (s.y - a.y) * uy for s in (p, q)]
    off = [abs((s.x - a.x) * uy - (s.y - a.y) * ux) for s in (p, q)]
    return max(off) < TOUCH and -TOUCH < along[0] < along[1] < length + TOUCH


def is_inside_box(inner: Bounds, outer: Bounds) -> bool:
    """Return whether *inner* does not leave *outer*."""
    return (
        inner.left >= outer.left - TOUCH
        and inner.right <= outer.right + TOUCH
        and inner.bottom >= outer.bottom - TOUCH
        and inner.top <= outer.top + TOUCH
    )
