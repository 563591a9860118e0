"""Path data for writing: absolute M, L, A and Z, and plain decimal numbers.

An arc in SVG gives its radius, not its bulge. Close to a half circle a tiny
error of the radius moves the centre a long way (by its square root), so arcs of
more than MAX_SWEEP_DEG are written in equal pieces, except the exact half
circle: there the radius is rounded down, and every reader scales it up to fit
(SVG 2, "Out-of-range elliptical arc parameters").
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from itertools import pairwise
from typing import NamedTuple

from ...errors import Defect
from ...paths import Path, Point, Segment, arc_of, arc_point

DECIMALS = 7  #: of a user unit; half a step is 0.000 000 013 mm
SIZE_DECIMALS = 10  #: of the page, whose error scales everything on it
MAX_SWEEP_DEG = 150.0
FLATTER_THAN = 1e-7  #: mm; an arc that rises less over its chord is a straight line
_HALF_CIRCLE_SLACK = 1e-9  #: of a bulge


class Corner(NamedTuple):
    """A place in user units, y down."""

    x: float
    y: float


def decimal(value: float, places: int = DECIMALS) -> str:
    """Return *value* to so many *places*, without exponent, trailing zeros or trailing point.

    Raises Defect for what is no finite number.

    >>> decimal(48.0), decimal(-1 / 3), decimal(-1e-12)
    ('48', '-0.3333333', '0')
    """
    if not math.isfinite(value):
        raise Defect(f"a drawing holds the number {value}, which no file can carry")
    text = f"{float(value):.{places}f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def path_data(path: Path, place: Callable[[Point], Corner]) -> str:
    """Return the path data of *path*, its points moved to user units by *place*."""
    if not path.vertices:
        return ""
    first = place(path.vertices[0].point)
    words = [f"M{decimal(first.x)} {decimal(first.y)}"]
    segments = [piece for segment in path.segments() for piece in gentle_pieces(segment)]
    if path.closed and segments and not segments[-1].bulge:
        segments.pop()
    words.extend(_drawn(segment, place) for segment in segments)
    return "".join([*words, "Z"] if path.closed else words)


def gentle_pieces(segment: Segment) -> Iterator[Segment]:
    """Yield *segment* in pieces whose radius tells their shape well; most are whole."""
    if not segment.bulge:
        yield segment
        return
    bulge = abs(float(segment.bulge))
    sweep_deg = 4 * math.degrees(math.atan(bulge))
    if sweep_deg <= MAX_SWEEP_DEG or abs(bulge - 1) < _HALF_CIRCLE_SLACK:
        yield segment
        return
    count = math.ceil(sweep_deg / MAX_SWEEP_DEG)
    arc = arc_of(segment)
    inner = [Point(*arc_point(arc, i / count)) for i in range(1, count)]
    points = [segment.start, *inner, segment.end]
    for start, end in pairwise(points):
        yield Segment(start, end, math.tan(arc.sweep / count / 4))


def _drawn(segment: Segment, place: Callable[[Point], Corner]) -> str:
    end = _rounded(place(segment.end))
    goal = f"{decimal(end.x)} {decimal(end.y)}"
    if not segment.bulge or _is_flat(segment):
        return f"L{goal}"
    start = _rounded(place(segment.start))
    radius = decimal(_radius(start, end, abs(float(segment.bulge))))
    sweep = 0 if segment.bulge > 0 else 1  # y runs down: what turns left here turns right there
    return f"A{radius} {radius} 0 0 {sweep} {goal}"


def _is_flat(segment: Segment) -> bool:
    """Whether the rise of the arc, half its chord times its bulge, cannot be seen."""
    chord = math.hypot(segment.end.x - segment.start.x, segment.end.y - segment.start.y)
    return chord * abs(float(segment.bulge)) / 2 < FLATTER_THAN


def _rounded(corner: Corner) -> Corner:
    return Corner(round(corner.x, DECIMALS), round(corner.y, DECIMALS))


def _radius(start: Corner, end: Corner, bulge: float) -> float:
    """Return the radius over the chord as it is written, never above it for a half circle."""
    chord = math.hypot(end.x - start.x, end.y - start.y)
    if abs(bulge - 1) < _HALF_CIRCLE_SLACK:
        step = 10.0**DECIMALS
        return max(math.floor(chord / 2 * step) / step, 1 / step)
    return chord * (1 + bulge * bulge) / (4 * bulge)
