"""Where endless lines and full circles meet, mm."""

from __future__ import annotations

import math

from .paths import Arc, Number, Point

NEAR = 1e-9  #: mm; a line or circle that comes as near touches


def line_meets_circle(start: Point, direction: tuple[Number, Number], arc: Arc) -> list[Point]:
    """Return where the line through *start* along the unit vector *direction* meets a full circle.

    Two points in the order in which they lie along the line, one where it touches, or none.
    """
    ux, uy = float(direction[0]), float(direction[1])
    wx, wy = float(arc.centre.x - start.x), float(arc.centre.y - start.y)
    along, off = wx * ux + wy * uy, wx * uy - wy * ux
    if math.fabs(off) > arc.radius + NEAR:
        return []
    half = math.sqrt(max(arc.radius**2 - off**2, 0.0))
    shares = (along - half, along + half) if half > NEAR else (along,)
    return [Point(start.x + share * ux, start.y + share * uy) for share in shares]


def circles_meet(a: Arc, b: Arc) -> list[Point]:
    """Return where two full circles meet: two points, one where they touch, or none."""
    dx, dy = float(b.centre.x - a.centre.x), float(b.centre.y - a.centre.y)
    apart = math.hypot(dx, dy)
    least, most = math.fabs(a.radius - b.radius) - NEAR, a.radius + b.radius + NEAR
    if apart < NEAR or not least <= apart <= most:
        return []
    along = (a.radius**2 - b.radius**2 + apart**2) / (2 * apart)
    half = math.sqrt(max(a.radius**2 - along**2, 0.0))
    x, y = a.centre.x + dx / apart * along, a.centre.y + dy / apart * along
    offsets = (half, -half) if half > NEAR else (0.0,)
    return [Point(x - dy / apart * h, y + dx / apart * h) for h in offsets]
