"""A ring drawn in by the same distance on all sides, and clipped to a strip."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from fractions import Fraction

from ..documents import Refusal
from ..paths import Number, Path, Point, distance, flattened, magnitude, polyline, signed_area
from .arrangement import crossing_of_itself
from .rings import without_idle_corners
from .shapes import INWARD, Shape

CHORD_SAGITTA = 0.005  #: mm; arcs become chords in a zone of tape
NO_AREA = 1e-3  #: mm2; a zone of less is what rounding left of none


def inset_outline(shape: Shape, inset: Number) -> Path:
    """Return the panel less *inset* on every side; raises Refusal when nothing is left.

    A panel of straight edges keeps exact corners where it can. Arcs and holes
    become chords: a zone says where tape goes, it is not cut.
    """
    ring = without_idle_corners(shape.ring)
    if shape.holes or any(corner.bulge for corner in ring):
        return _buffered(shape, inset)
    points = [corner.point for corner in ring]
    if not inset:
        return polyline(points, closed=True)
    moved = [_meeting(points, i, inset) for i in range(len(points))]
    if _keeps_its_turns(points, moved):
        return polyline(moved, closed=True)
    return _buffered(shape, inset)


def _meeting(points: Sequence[Point], i: int, inset: Number) -> Point:
    """Return where the inner parallels of the two edges at corner *i* meet."""
    a, b, c = points[i - 1], points[i], points[(i + 1) % len(points)]
    ux, uy = _unit(a, b)
    vx, vy = _unit(b, c)
    cross = ux * vy - uy * vx
    # the corner moves by (u - v) / (u x v): inset 1 from both edges, whatever the angle
    return Point(b.x + inset * (vx - ux) / cross, b.y + inset * (vy - uy) / cross)


def _unit(a: Point, b: Point) -> tuple[Number, Number]:
    length = distance(a, b)
    return (b.x - a.x) / length, (b.y - a.y) / length


def _keeps_its_turns(before: Sequence[Point], after: Sequence[Point]) -> bool:
    """Return whether every edge still runs the way it did, so that nothing turned over."""
    count = len(before)
    for i in range(count):
        j = (i + 1) % count
        dx, dy = before[j].x - before[i].x, before[j].y - before[i].y
        if (after[j].x - after[i].x) * dx + (after[j].y - after[i].y) * dy <= 0:
            return False
    return True


def _buffered(shape: Shape, inset: Number) -> Path:
    from shapely.geometry import Polygon

    holes = [flattened(hole, CHORD_SAGITTA) for hole in shape.holes]
    panel = Polygon(flattened(shape.outline(), CHORD_SAGITTA), holes)
    left = panel.buffer(-float(inset), join_style="mitre") if inset else panel
    if left.area < NO_AREA or left.geom_type != "Polygon":
        raise Refusal("no-zone", f"an inset leaves nothing of panel {shape.name!r}")
    if left.interiors:
        raise Refusal("holed-zone", f"panel {shape.name!r} has a hole; name an edge and a width")
    return polyline([(x, y) for x, y, *_ in left.exterior.coords[:-1]], closed=True)


def strip_of(zone: Path, shape: Shape, side: str, start: Number, width: Number) -> Path:
    """Return the part of *zone* from *start* to start + width off one side of the panel."""
    ux, uy = INWARD[side]
    left, bottom, right, top = shape.box
    corner = Point(left if ux > 0 else right, bottom if uy > 0 else top)

    def depth(point: Point) -> Number:
        return (point.x - corner.x) * ux + (point.y - corner.y) * uy

    points = clipped(zone.points, lambda p: depth(p) - start)
    points = clipped(points, lambda p: start + width - depth(p))
    strip = polyline(points, closed=True)
    if len(points) < 3 or magnitude(signed_area(strip)) < NO_AREA:
        raise Refusal("no-zone", f"nothing of panel {shape.name!r} lies in this strip")
    if crossing_of_itself(strip) is not None:  # pieces, with a bridge of no width between them
        told = f"the strip on panel {shape.name!r} falls into pieces"
        raise Refusal("parted-zone", told, "Choose a wider strip, or another edge.")
    return strip


def clipped(points: Sequence[Point], measure: Callable[[Point], Number]) -> list[Point]:
    """Return the polygon's part where *measure* (linear) is not negative (Sutherland-Hodgman)."""
    kept: list[Point] = []
    for i, here in enumerate(points):
        before = points[i - 1]
        m0, m1 = measure(before), measure(here)
        if (m0 < 0) != (m1 < 0) and m0 and m1:
            share = Fraction(m0) / Fraction(m0 - m1) if _exact(m0, m1) else m0 / (m0 - m1)
            kept.append(
                Point(
                    before.x + (here.x - before.x) * share, before.y + (here.y - before.y) * share
                )
            )
        if m1 >= 0:
            kept.append(here)
    return kept


def _exact(*values: Number) -> bool:
    return all(isinstance(value, Fraction | int) for value in values)
