"""Affine maps of the plane and the transform lists that spell them.

Source: SVG 2, coords.html, "The transform property" and CSS Transforms 1,
whose list may also stand in a style attribute, with units.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from typing import NamedTuple

from .bounds import MAX_DIGITS
from .numbers import ABSOLUTE_PX, NUMBER, WHITE, number_of

MAX_FUNCTIONS = 1000


class Matrix(NamedTuple):
    """x' = a x + c y + e and y' = b x + d y + f."""

    a: float = 1.0
    b: float = 0.0
    c: float = 0.0
    d: float = 1.0
    e: float = 0.0
    f: float = 0.0

    @property
    def determinant(self) -> float:
        """The factor of areas, negative when the map turns the plane over."""
        return self.a * self.d - self.b * self.c


IDENTITY = Matrix()


def apply(m: Matrix, x: float, y: float) -> tuple[float, float]:
    """Return where *m* takes the point."""
    return m.a * x + m.c * y + m.e, m.b * x + m.d * y + m.f


def after(outer: Matrix, inner: Matrix) -> Matrix:
    """Return the map that does *inner* first and *outer* then."""
    e, f = apply(outer, inner.e, inner.f)
    return Matrix(
        outer.a * inner.a + outer.c * inner.b,
        outer.b * inner.a + outer.d * inner.b,
        outer.a * inner.c + outer.c * inner.d,
        outer.b * inner.c + outer.d * inner.d,
        e,
        f,
    )


def translation(x: float, y: float) -> Matrix:
    """Return the map that moves by (*x*, *y*)."""
    return Matrix(e=x, f=y)


def scaling(x: float, y: float) -> Matrix:
    """Return the map that stretches by *x* across and *y* along."""
    return Matrix(a=x, d=y)


def stretches(m: Matrix) -> tuple[float, float]:
    """Return the largest and smallest factor of lengths (the singular values)."""
    turned = math.hypot(m.a + m.d, m.b - m.c)
    mirrored = math.hypot(m.a - m.d, m.b + m.c)
    return (turned + mirrored) / 2, abs(turned - mirrored) / 2


def _rotation(degrees: float, x: float = 0.0, y: float = 0.0) -> Matrix:
    """Return the rotation about (*x*, *y*), exact for quarter turns."""
    cosine, sine = _QUARTERS.get(
        degrees % 360, (math.cos(math.radians(degrees)), math.sin(math.radians(degrees)))
    )
    turn = Matrix(cosine, sine, -sine, cosine)
    return after(translation(x, y), after(turn, translation(-x, -y)))


_QUARTERS = {0.0: (1.0, 0.0), 90.0: (0.0, 1.0), 180.0: (-1.0, 0.0), 270.0: (0.0, -1.0)}


def _skew_x(degrees: float) -> Matrix:
    return Matrix(c=math.tan(math.radians(degrees)))


def _skew_y(degrees: float) -> Matrix:
    return Matrix(b=math.tan(math.radians(degrees)))


#: name: counts of arguments, what they make
_FUNCTIONS: dict[str, tuple[tuple[int, ...], Callable[..., Matrix]]] = {
    "matrix": ((6,), Matrix),
    "translate": ((1, 2), lambda x, y=0.0: translation(x, y)),
    "translatex": ((1,), lambda x: translation(x, 0.0)),
    "translatey": ((1,), lambda y: translation(0.0, y)),
    "scale": ((1, 2), lambda x, y=None: scaling(x, x if y is None else y)),
    "scalex": ((1,), lambda x: scaling(x, 1.0)),
    "scaley": ((1,), lambda y: scaling(1.0, y)),
    "rotate": ((1, 3), _rotation),
    "skewx": ((1,), _skew_x),
    "skewy": ((1,), _skew_y),
}
_ANGLES = {"deg": 1.0, "grad": 0.9, "rad": 180 / math.pi, "turn": 360.0}
_ARGUMENT = re.compile(rf"({NUMBER})([A-Za-z]*)[{WHITE}]*,?[{WHITE}]*")
_GAP = rf"[{WHITE},]*"
_FUNCTION = re.compile(rf"{_GAP}([A-Za-z]+)[{WHITE}]*\(([^()]*)\){_GAP}")


def parse_transform(text: str) -> Matrix | None:
    """Return the map that a transform list spells, or None when it is none.

    >>> parse_transform("translate(3 4) scale(2)")
    Matrix(a=2.0, b=0.0, c=0.0, d=2.0, e=3.0, f=4.0)
    >>> parse_transform("scale(1, 2, 3)") is None
    True
    """
    total, position, count = IDENTITY, 0, 0
    if not text.strip() or text.strip() == "none":
        return IDENTITY
    while position < len(text):
        match = _FUNCTION.match(text, position)
        step = _function(match[1].lower(), match[2]) if match else None
        count += 1
        if match is None or step is None or count > MAX_FUNCTIONS:
            return None
        total, position = after(total, step), match.end()
    return total


def _function(name: str, arguments: str) -> Matrix | None:
    if name not in _FUNCTIONS or len(arguments) > 10 * MAX_DIGITS:
        return None
    counts, make = _FUNCTIONS[name]
    numbers = _arguments(arguments)
    if numbers is None or len(numbers) not in counts:
        return None
    return make(*numbers)


def _arguments(text: str) -> list[float] | None:
    """Return the numbers between the brackets, lengths as px and angles as degrees."""
    numbers, position, rest = [], 0, text.strip(WHITE)
    while position < len(rest):
        match = _ARGUMENT.match(rest, position)
        number = _with_unit(match[1], match[2].lower()) if match else None
        if match is None or number is None:
            return None
        numbers.append(number)
        position = match.end()
    return numbers


def _with_unit(number: str, unit: str) -> float | None:
    value = number_of(number)
    factor = 1.0 if not unit else _ANGLES.get(unit) or ABSOLUTE_PX.get(unit)
    return None if value is None or factor is None else value * factor
