"""Cubic Bézier curves: the circular arcs that they stand for, and chords along the others."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import NamedTuple

from ..paths import Point, Segment, arc_of, arc_point, bulge_through

Place = tuple[float, float]

#: A quarter circle as one curve lies off by at most this share of its radius where the handles
#: are 4/3 tan(angle / 4) long (a textbook value; the error falls with the sixth power of the angle).
QUARTER_SHARE = 2.73e-4
_FLAT = 1e-9  #: mm; a sagitta that no file can tell from a straight line


class Curve(NamedTuple):
    """The two handles of a cubic curve and where it ends."""

    first: Place
    second: Place
    end: Place


def curves_of(segment: Segment, within: float) -> Iterator[Curve]:
    """Yield an arc (bulge not 0) as curves that lie no farther off than *within* mm.

    Ends and middles of the curves lie on the arc.
    """
    arc = arc_of(segment)
    count = _count(arc.radius, abs(arc.sweep), within)
    inner = [arc_point(arc, i / count) for i in range(1, count)]
    end = float(segment.end.x), float(segment.end.y)
    places = [(float(segment.start.x), float(segment.start.y)), *inner, end]
    bulge = math.tan(arc.sweep / count / 4)
    for start, stop in pairwise(places):
        yield _curve(start, stop, bulge)


def _count(radius: float, sweep: float, within: float) -> int:
    share = min(within / (QUARTER_SHARE * radius), 1.0)
    largest = math.pi / 2 * math.pow(share, 1 / 6)
    return max(math.ceil(sweep / largest - 1e-9), 1)


def _curve(start: Place, end: Place, bulge: float) -> Curve:
    """Return the curve of an arc: handles of 4/3 tan(angle / 4) radii along its tangents.

    With the bulge b and the chord c the radius is c (1 + b²) / 4b and half the angle
    2 atan b away from the chord, so that a handle is c (1 + b²) / 3 long and leaves the
    chord at that angle: (1 - b²) c / 3 along it and 2 b c / 3 to its right.
    """
    dx, dy = end[0] - start[0], end[1] - start[1]
    along, aside = (1 - bulge * bulge) / 3, 2 * bulge / 3
    first = start[0] + along * dx + aside * dy, start[1] + along * dy - aside * dx
    second = end[0] - along * dx + aside * dy, end[1] - along * dy - aside * dx
    return Curve(first, second, end)


def bulge_of(start: Place, curve: Curve, within: float) -> float | None:
    """Return the bulge of the arc that *curve* stands for, 0 for a straight line.

    None where it lies farther than *within* mm off every arc through its ends and middle.
    """
    points = (start, *curve)
    middle = on_cubic(points, 0.5)
    bulge = float(bulge_through(Point(*start), Point(*middle), Point(*curve.end)))
    reach = math.dist(start, curve.end)
    if not math.isfinite(bulge) or abs(bulge) > 1 + 1e-6:
        return None  # more than half a circle, which no single curve is drawn for
    if abs(bulge) * reach / 2 < _FLAT:
        return 0.0 if _is_straight(points, within) else None
    arc = arc_of(Segment(Point(*start), Point(*curve.end), bulge))
    places = (on_cubic(points, i / 8) for i in (1, 2, 3, 5, 6, 7))
    off = max(abs(math.dist(arc.centre, place) - arc.radius) for place in places)
    return bulge if off <= within else None


def _is_straight(points: Sequence[Place], within: float) -> bool:
    """Whether both handles lie on the line between the ends, near enough and in order."""
    (x0, y0), _, _, (x3, y3) = points
    dx, dy = x3 - x0, y3 - y0
    chord = math.hypot(dx, dy)
    if not chord:
        return False
    shares = [((x - x0) * dx + (y - y0) * dy) / chord**2 for x, y in points[1:3]]
    aside = max(abs((x - x0) * dy - (y - y0) * dx) / chord for x, y in points[1:3])
    return aside <= within and 0 <= shares[0] <= 1 and 0 <= shares[1] <= 1


def chord_count(points: Sequence[Place], within: float) -> float:
    """Return how many equal steps keep chords within *within* of the curve, not yet rounded up.

    A chord of n equal steps lies off by at most max|B''| / (8 n²), and
    |B''| is at most six times the larger second difference of the control
    points (the error of linear interpolation; any textbook of numerics).
    """
    return math.sqrt(6 / 8 * _second_difference(points) / within)


def _second_difference(points: Sequence[Place]) -> float:
    """Return the larger of the two second differences of four control points."""
    return max(
        math.hypot(x0 - 2 * x1 + x2, y0 - 2 * y1 + y2)
        for (x0, y0), (x1, y1), (x2, y2) in zip(points, points[1:], points[2:], strict=False)
    )


def on_cubic(points: Sequence[Place], t: float) -> Place:
    """Return the place on the curve of four control *points* at *t* from 0 to 1."""
    s = 1 - t
    weights = (s * s * s, 3 * s * s * t, 3 * s * t * t, t * t * t)
    return (
        sum(weight * x for weight, (x, _) in zip(weights, points, strict=True)),
        sum(weight * y for weight, (_, y) in zip(weights, points, strict=True)),
    )
