"""Elliptical arcs as SVG spells them, and what becomes of them under an affine map.

Source: SVG 2, paths.html, "Out-of-range elliptical arc parameters", and its
implementation notes, "Conversion from endpoint to center parameterization".
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import NamedTuple

from .transforms import Matrix, after, apply, stretches

#: mm; an ellipse whose half axes differ by less is drawn as the circle between them.
CIRCLE_SLACK = 1e-5
_NO_RADIUS = 1e-12  #: user units


class Sweep(NamedTuple):
    """A stretch of the unit circle, and the map that makes the arc of it."""

    matrix: Matrix
    start: float  #: radians
    turn: float  #: radians, positive towards growing angles

    def point(self, share: float) -> tuple[float, float]:
        """Return the point at *share* (0 to 1) of the way."""
        angle = self.start + share * self.turn
        return apply(self.matrix, math.cos(angle), math.sin(angle))


class ArcWords(NamedTuple):
    """The arguments of the path command A but its end."""

    rx: float
    ry: float
    rotation_deg: float
    is_large: bool
    is_positive: bool


def sweep_of(start: tuple[float, float], words: ArcWords, end: tuple[float, float]) -> Sweep | None:
    """Return the arc in user units, or None where SVG draws a straight line instead."""
    rx, ry = abs(words.rx), abs(words.ry)
    if rx < _NO_RADIUS or ry < _NO_RADIUS:
        return None
    angle = math.radians(words.rotation_deg)
    cosine, sine = math.cos(angle), math.sin(angle)
    dx, dy = (start[0] - end[0]) / 2, (start[1] - end[1]) / 2
    x, y = (cosine * dx + sine * dy) / rx, (cosine * dy - sine * dx) / ry
    half_chord = math.hypot(x, y)  # on the unit circle
    if half_chord == 0:
        return None
    grown = max(half_chord, 1.0)
    lift = math.sqrt(max(1 - (half_chord / grown) ** 2, 0.0)) * grown / half_chord
    lift = -lift if words.is_large == words.is_positive else lift
    cx, cy = lift * y / grown, -lift * x / grown
    from_angle = math.atan2(y / grown - cy, x / grown - cx)
    to_angle = math.atan2(-y / grown - cy, -x / grown - cx)
    axes = Matrix(
        cosine * rx * grown,
        sine * rx * grown,
        -sine * ry * grown,
        cosine * ry * grown,
        (start[0] + end[0]) / 2,
        (start[1] + end[1]) / 2,
    )
    moved = after(axes, Matrix(e=cx, f=cy))
    return Sweep(moved, from_angle, _turn(from_angle, to_angle, words))


def _turn(start: float, end: float, words: ArcWords) -> float:
    """Return the angle from *start* to *end* the way that the flags ask for.

    All but a whole circle must not become nothing by an error in the last digit.
    """
    turn = (end - start if words.is_positive else start - end) % math.tau
    if words.is_large and turn < math.pi / 2:
        turn += math.tau
    return turn if words.is_positive else -turn


def mapped_sweep(matrix: Matrix, sweep: Sweep) -> Sweep:
    """Return *sweep* under *matrix*."""
    return Sweep(after(matrix, sweep.matrix), sweep.start, sweep.turn)


def is_circular(sweep: Sweep) -> bool:
    """Whether a true arc tells the shape, within CIRCLE_SLACK."""
    longest, shortest = stretches(sweep.matrix)
    return longest - shortest <= CIRCLE_SLACK


class Bend(NamedTuple):
    """A bulge and the point where its arc ends."""

    bulge: float
    x: float
    y: float


def bends(sweep: Sweep) -> Iterator[Bend]:
    """Yield a circular *sweep* as bulges of at most half a circle each."""
    count = max(math.ceil(abs(sweep.turn) / math.pi - 1e-9), 1)
    sign = 1 if sweep.matrix.determinant > 0 else -1
    bulge = sign * math.tan(sweep.turn / count / 4)
    for i in range(1, count + 1):
        yield Bend(bulge, *sweep.point(i / count))


def chord_count(sweep: Sweep, tolerance: float) -> int:
    """Return how many equal chords stay within *tolerance* of *sweep*.

    The sagitta of a chord over the angle a on a circle is r (1 - cos(a/2)); an
    ellipse stays below that of its longer half axis.
    """
    radius = stretches(sweep.matrix)[0]
    if not radius > tolerance:
        return 1
    step = 2 * math.acos(1 - tolerance / radius)
    return math.ceil(abs(sweep.turn) / step)
