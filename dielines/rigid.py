"""Rigid motions in space: where a flat panel ends up once the part is folded.

All panels keep the part's flat coordinates; a pose takes a flat place (x, y, 0)
into space. Quarter turns about upright or level lines and half turns about any
line are exact on exact coordinates (their matrices hold whole numbers and
fractions only), so that poses compare with ``==``; all other turns are floats.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction

from .paths import Number, Point

Place = tuple[Number, Number, Number]
"""A place, a direction or a row of a matrix in space; mm where it is a place."""

#: Entries of a rotation may be plain whole numbers, which are fast; a translation
#: starts from this fraction, so that places divide exactly later on.
ZERO = Fraction(0)

#: Cosine and sine of 0, 90, 180 and 270 degrees.
_QUARTERS = ((1, 0), (0, 1), (-1, 0), (0, -1))


@dataclass(frozen=True, slots=True)
class Pose:
    """A rigid motion: the rows of its rotation, then a translation (mm)."""

    rotation: tuple[Place, Place, Place]
    translation: Place

    @property
    def normal(self) -> Place:
        """The direction in space in which the panel's face looks."""
        first, second, third = self.rotation
        return first[2], second[2], third[2]

    def at(self, point: tuple[Number, Number], z: Number = 0) -> Place:
        """Return the place in space of a flat *point*, *z* above the panel's face."""
        place = (point[0], point[1], z)
        (a, b, c), (d, e, f) = self.rotation, self.translation
        return _dot(a, place) + d, _dot(b, place) + e, _dot(c, place) + f

    def compose(self, inner: Pose) -> Pose:
        """Return the motion that does *inner* first and this one after it."""
        x, y, z = _columns(inner.rotation)
        rows = tuple((_dot(row, x), _dot(row, y), _dot(row, z)) for row in self.rotation)
        moved = self.at(inner.translation[:2], inner.translation[2])
        return Pose((rows[0], rows[1], rows[2]), moved)

    def inverse(self) -> Pose:
        """Return the motion that undoes this one (a rotation's inverse is its transpose)."""
        rows = _columns(self.rotation)
        back = tuple(ZERO - _dot(row, self.translation) for row in rows)
        return Pose(rows, (back[0], back[1], back[2]))


#: The part lying flat on the table, face up.
AT_REST = Pose(((1, 0, 0), (0, 1, 0), (0, 0, 1)), (ZERO, ZERO, ZERO))


def relative(seen_from: Pose, pose: Pose) -> Pose:
    """Return the motion that takes the drawing of *pose* into that of *seen_from*.

    Its z is the height above the face of *seen_from*.
    """
    return seen_from.inverse().compose(pose)


def in_floats(pose: Pose) -> Pose:
    """Return *pose* with floats for all numbers: no longer exact, and much faster."""
    (a, b, c), (d, e, f), (g, h, i) = pose.rotation
    x, y, z = pose.translation
    return Pose(
        (
            (float(a), float(b), float(c)),
            (float(d), float(e), float(f)),
            (float(g), float(h), float(i)),
        ),
        (float(x), float(y), float(z)),
    )


def turn_about(start: Point, end: Point, angle_deg: Number) -> Pose:
    """Return the right-hand turn by *angle_deg* about the flat line from *start* to *end*.

    What lies on the left of the line rises to the face side when the angle is
    positive. Rotation about an axis by Rodrigues' formula.
    """
    if start == end:
        raise ValueError("a line without length is no axis to turn about")
    if not angle_deg:
        return AT_REST
    cosine, sine = cosine_and_sine(angle_deg)
    xx, xy, yy = _axis_products(end.x - start.x, end.y - start.y)
    lift_x, lift_y = _lifts(end.x - start.x, end.y - start.y, sine)
    rotation = (
        (xx + cosine * yy, xy - cosine * xy, lift_y),
        (xy - cosine * xy, yy + cosine * xx, -lift_x),
        (-lift_y, lift_x, cosine),
    )
    fixed = (start.x, start.y, ZERO)
    x, y, z = (at - _dot(row, fixed) for at, row in zip(fixed, rotation, strict=True))
    return Pose(rotation, (x, y, z))


def cosine_and_sine(angle_deg: Number) -> tuple[Number, Number]:
    """Return cosine and sine of an angle; of whole quarter turns as whole numbers.

    >>> cosine_and_sine(Fraction(-90))
    (0, -1)
    """
    quarters, rest = divmod(angle_deg, 90)
    if not rest:
        return _QUARTERS[int(quarters) % 4]
    angle = math.radians(angle_deg)
    return math.cos(angle), math.sin(angle)


def distance_between(place: Place, other: Place) -> float:
    """Return the distance of two places, mm; 0 exactly where they are equal."""
    return math.hypot(*(float(a - b) for a, b in zip(place, other, strict=True)))


def _axis_products(dx: Number, dy: Number) -> tuple[Number, Number, Number]:
    """Return xx, xy and yy of the unit vector along (*dx*, *dy*); rational when those are."""
    if not dy:
        return 1, 0, 0
    if not dx:
        return 0, 0, 1
    square = dx * dx + dy * dy
    return dx * dx / square, dx * dy / square, dy * dy / square


def _lifts(dx: Number, dy: Number, sine: Number) -> tuple[Number, Number]:
    """Return the unit vector along (*dx*, *dy*) times *sine*; whole where it can be."""
    if not sine:
        return 0, 0
    if not dy:
        return (sine if dx > 0 else -sine), 0
    if not dx:
        return 0, (sine if dy > 0 else -sine)
    length = math.hypot(dx, dy)
    return float(dx) / length * sine, float(dy) / length * sine


def _columns(rows: tuple[Place, Place, Place]) -> tuple[Place, Place, Place]:
    (a, b, c), (d, e, f), (g, h, i) = rows
    return (a, d, g), (b, e, h), (c, f, i)


def _dot(row: Place, column: Place) -> Number:
    """Return the sum of products; most factors of a turn are 0, and fractions are slow."""
    total: Number = 0
    for a, b in zip(row, column, strict=True):
        if a and b:
            total += a * b
    return total
