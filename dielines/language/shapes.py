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
from functools import cached_property

from ..documents import Refusal
from ..paths import Bounds, Path, Point, Vertex, bounds_of
from .rings import (
    TOUCH,
    Corner,
    Place,
    without_empty_pieces,
    without_idle_corners,
    without_spikes,
)

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
STICKS_OUT = 1e-3  #: mm; as far as a file may deviate from its part, nothing sticks out


@dataclass(frozen=True)
class Shape:
    """A panel being edited: outer *ring*, counter-clockwise, and *holes*."""

    name: str
    ring: tuple[Corner, ...]
    box: Bounds  #: of the untouched panel; edits measure from it
    holes: tuple[Path, ...] = ()

    @cached_property
    def _outline(self) -> Path:
        return Path(tuple(Vertex(c.x, c.y, c.bulge) for c in without_idle_corners(self.ring)))

    def outline(self) -> Path:
        """Return the ring as a path, corners that do nothing left out."""
        return self._outline


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
    return replace(shape, ring=without_empty_pieces(ring))


def spliced(shape: Shape, start: Point, end: Point, inner: Sequence[Corner]) -> Shape:
    """Return *shape* with its edge from *start* to *end* replaced by a cut.

    *inner* are the corners of the cut: the first stands at *start*, the last
    ends at *end*. Both ends must lie on one straight edge; raises Refusal.
    """
    count = len(shape.ring)
    ends = Corner(*start).place, Corner(*end).place
    places = [corner.place for corner in shape.ring]
    for i, corner in enumerate(shape.ring):
        if not corner.bulge and _in_order(places[i], *ends, places[(i + 1) % count]):
            rest = Corner(end.x, end.y, Fraction(0), corner.side)
            ring = (*shape.ring[: i + 1], *inner, rest, *shape.ring[i + 1 :])
            return replace(shape, ring=without_spikes(ring))
    raise Refusal("off-edge", f"does not lie on a straight edge of {shape.name!r}")


def _in_order(a: Place, p: Place, q: Place, b: Place) -> bool:
    """Return whether a, p, q, b follow one another on a straight line."""
    length = math.dist(a, b)
    if length < TOUCH:
        return False
    ux, uy = (b[0] - a[0]) / length, (b[1] - a[1]) / length
    along = [(x - a[0]) * ux + (y - a[1]) * uy for x, y in (p, q)]
    off = [abs((x - a[0]) * uy - (y - a[1]) * ux) for x, y in (p, q)]
    return max(off) < TOUCH and -TOUCH < along[0] < along[1] < length + TOUCH


def is_inside_box(inner: Bounds, outer: Bounds) -> bool:
    """Return whether *inner* does not leave *outer*."""
    return (
        inner.left >= outer.left - STICKS_OUT
        and inner.right <= outer.right + STICKS_OUT
        and inner.bottom >= outer.bottom - STICKS_OUT
        and inner.top <= outer.top + STICKS_OUT
    )
