"""Strips laid side by side in a zone of any shape: where each lies and how its ends are cut."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property
from typing import NamedTuple

from ..bindings.joining import clipped
from ..book.spans import measured
from ..landing import overhang_of
from ..lengths import Length
from ..part import Panel, Zone
from ..paths import (
    Bounds,
    Number,
    Path,
    Point,
    bounds_of,
    flattened,
    polyline,
    rectangle,
    signed_area,
)
from .strips import Cut, End, Strip, Way

FINE = 10**6  #: places that are floats are kept to a millionth of a mm
CHORD = 0.001  #: mm; arcs of a zone are chords no farther off
Spot = tuple[Fraction, Fraction]


@dataclass(frozen=True)
class Lie:
    """A zone seen with its strips upright: *across* first, then *along*, exact.

    *back* brings a place of it to the flat part.
    """

    way: Way
    corners: tuple[Spot, ...]
    back: Callable[[Point], Point]

    @cached_property
    def box(self) -> Bounds:
        """The rectangle around the zone."""
        across, along = zip(*self.corners, strict=True)
        return Bounds(min(across), min(along), max(across), max(along))

    @property
    def room(self) -> Fraction:
        """How wide it is where strips lie side by side."""
        return Fraction(self.box.width)

    @property
    def extent(self) -> Fraction:
        """How long it is along the strips."""
        return Fraction(self.box.height)

    @cached_property
    def is_rectangle(self) -> bool:
        """Whether it is an upright rectangle, as most zones are."""
        corners = {(x, y) for x in self.box[0::2] for y in self.box[1::2]}
        return len(self.corners) == 4 and set(self.corners) == corners

    @cached_property
    def is_hollow(self) -> bool:
        """Whether it has a bay, so that an upright line may leave it and come back."""
        turns = {_turn(*three) > 0 for three in _threes(self.corners) if _turn(*three)}
        return len(turns) > 1


def lies_of(zone: Zone) -> list[Lie]:
    """Return the ways in which strips may lie in *zone*: up, across, along a slanted edge."""
    points = exact_corners(zone.path)
    lies = [
        Lie(Way.UP, points, lambda p: p),
        Lie(Way.ACROSS, tuple((y, x) for x, y in points), lambda p: Point(p.y, p.x)),
    ]
    direction = _slant(points)
    return lies if direction is None else [*lies, _slanted(points, direction)]


def exact_corners(path: Path) -> tuple[Spot, ...]:
    """Return the corners of a zone as exact places; floats to a millionth of a mm."""
    has_arcs = any(vertex.bulge for vertex in path.vertices)
    points: Sequence[tuple[Number, ...]] = flattened(path, CHORD) if has_arcs else path.points
    found = [(_exact(x), _exact(y)) for x, y in points]
    return tuple(spot for i, spot in enumerate(found) if spot != found[i - 1])


def _exact(value: Number) -> Fraction:
    if isinstance(value, Fraction | int):
        return Fraction(value)
    on_ruler = measured(value).mm
    return on_ruler if abs(on_ruler - value) < 1 / FINE else _fine(value)


def _slant(points: Sequence[Spot]) -> tuple[float, float] | None:
    """Return the direction of the longest edge where that is neither upright nor level."""
    edges = [(x1 - x0, y1 - y0) for (x0, y0), (x1, y1) in _edges(points)]
    dx, dy = max(edges, key=lambda edge: edge[0] ** 2 + edge[1] ** 2)
    length = math.hypot(dx, dy)
    return (float(dx) / length, float(dy) / length) if dx and dy else None


def _slanted(points: Sequence[Spot], direction: tuple[float, float]) -> Lie:
    ux, uy = direction
    turned = [(float(x) * uy - float(y) * ux, float(x) * ux + float(y) * uy) for x, y in points]
    corners = tuple((_fine(across), _fine(along)) for across, along in turned)

    def back(p: Point) -> Point:
        return Point(float(p.x) * uy + float(p.y) * ux, float(p.y) * uy - float(p.x) * ux)

    return Lie(Way.SLANTED, corners, back)


def _fine(value: float) -> Fraction:
    return Fraction(round(value * FINE), FINE)


def _edges(points: Sequence[Spot]) -> list[tuple[Spot, Spot]]:
    return list(zip(points, (*points[1:], points[0]), strict=True))


def _threes(points: Sequence[Spot]) -> list[tuple[Spot, Spot, Spot]]:
    return list(zip(points, (*points[1:], points[0]), (*points[2:], *points[:2]), strict=True))


def _turn(a: Spot, b: Spot, c: Spot) -> Fraction:
    return (b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0])


# ------------------------------------------------------------------ strips


class Filled(NamedTuple):
    """A zone filled in one way."""

    lie: Lie
    strips: tuple[Strip, ...]
    area: Fraction  #: of the zone, mm2

    @property
    def bare(self) -> Fraction:
        """What of it no strip covers, mm2."""
        return self.area - sum(strip.area for strip in self.strips)


def filled(zone: Zone, panel: Panel, lie: Lie, row: Sequence[Fraction]) -> Filled:
    """Return the strips of a *row* of widths in *zone*, side by side as *lie* says."""
    places = offsets(lie.room, row)
    found = [
        _strip(zone, panel, lie, offset, width) for offset, width in zip(places, row, strict=True)
    ]
    strips = tuple(strip for strip in found if strip is not None)
    return Filled(lie, strips, area_of(lie.corners))


def offsets(room: Fraction, row: Sequence[Fraction]) -> list[Fraction]:
    """Return where each strip of *row* begins: the outer ones at the edges, one alone in the middle.

    >>> offsets(Fraction(10), [Fraction(4), Fraction(3), Fraction(1)])
    [Fraction(0, 1), Fraction(5, 1), Fraction(9, 1)]
    """
    gap = room - sum(row)
    if len(row) == 1:
        return [gap / 2]
    between = gap / (len(row) - 1) if row else gap
    return [sum(row[:i], Fraction(0)) + between * i for i in range(len(row))]


def area_of(corners: Sequence[Spot]) -> Fraction:
    """Return the area inside exact corners, mm2, whichever way round they run."""
    return abs(Fraction(signed_area(polyline(corners, closed=True))))


def _strip(zone: Zone, panel: Panel, lie: Lie, offset: Fraction, width: Fraction) -> Strip | None:
    box = lie.box
    left = Fraction(box.left) + offset
    lane = Bounds(left, Fraction(box.bottom), left + width, Fraction(box.top))
    if lie.is_rectangle:
        return _plain_strip(zone, lie, offset, lane)
    corners = [(Fraction(x), Fraction(y)) for x, y in clipped(lie.corners, lane)]
    if not corners:
        return None
    ends = [_end(corners, lane, sign, lie) for sign in (-1, 1)]
    if not lie.is_hollow:
        for i, sign in enumerate((-1, 1)):
            corners, ends[i] = _squared(corners, lane, sign, ends[i], lie, panel)
    if not corners:
        return None
    edges = [_extent([c for c in corners if c[0] == x]) for x in (lane.left, lane.right)]
    flat = polyline([lie.back(Point(*corner)) for corner in corners], closed=True)
    return Strip(
        zone.name,
        Length(width),
        Length(_extent(corners)),
        Length(min(edges)),
        Length(offset),
        (ends[0], ends[1]),
        flat,
        area_of(corners),
    )


def _plain_strip(zone: Zone, lie: Lie, offset: Fraction, lane: Bounds) -> Strip:
    """Return the strip of an upright rectangle: as long as it, its ends square."""
    width, length = Length(Fraction(lane.width)), Length(Fraction(lane.height))
    ring = rectangle(*lane)
    flat = polyline([lie.back(point) for point in ring.points], closed=True)
    area = width.mm * length.mm
    return Strip(zone.name, width, length, length, Length(offset), (End(), End()), flat, area)


def _extent(corners: Sequence[Spot]) -> Fraction:
    along = [y for _, y in corners]
    return max(along) - min(along) if along else Fraction(0)


def _end(corners: Sequence[Spot], lane: Bounds, sign: int, lie: Lie) -> End:
    """Return how the upper (*sign* 1) or lower end has to be cut to follow the zone."""
    if lie.is_hollow:
        return End(Cut.SHAPED)
    first, last = (_reach(corners, x, sign) for x in (lane.left, lane.right))
    if first is None or last is None:
        return End(Cut.SHAPED)
    between = [c for c in corners if lane.left < c[0] < lane.right]
    if any(sign * y > _on_line(x, lane, first, last) for x, y in between):
        return End(Cut.SHAPED)
    rise = float(abs(last - first))
    if not rise:
        return End()
    return End(Cut.ANGLED, math.degrees(math.atan2(float(lane.width), rise)))


def _reach(corners: Sequence[Spot], x: Fraction | float, sign: int) -> Fraction | None:
    return max((sign * c[1] for c in corners if c[0] == x), default=None)


def _on_line(x: Fraction, lane: Bounds, first: Fraction, last: Fraction) -> Fraction:
    return first + (last - first) * (x - Fraction(lane.left)) / Fraction(lane.width)


def _squared(
    corners: list[Spot], lane: Bounds, sign: int, end: End, lie: Lie, panel: Panel
) -> tuple[list[Spot], End]:
    """Return the strip with this end cut square, a little shorter, where it may stay so.

    An end is cut at an angle only where it would show: where a square end that
    is as long as the zone would come out over an edge or a fold of its panel.
    """
    if end.cut is not Cut.ANGLED:
        return corners, end
    reaches = [_reach(corners, x, sign) for x in (lane.left, lane.right)]
    if len(found := [reach for reach in reaches if reach is not None]) < 2:
        return corners, end
    low, high = sorted(found)
    block = [(x, sign * y) for x in (lane.left, lane.right) for y in (low, high)]
    ring = [lie.back(Point(*block[i])) for i in (0, 1, 3, 2)]
    if not overhang_of(polyline(ring, closed=True), panel.outline, panel.holes).is_inside:
        return corners, end
    box = bounds_of([polyline(corners, closed=True)])
    kept = box._replace(top=low) if sign > 0 else box._replace(bottom=-low)
    if kept.height <= 0:
        return corners, end
    return [(Fraction(x), Fraction(y)) for x, y in clipped(corners, kept)], End()
