"""A text as paths, each one stroke of the pen."""

from __future__ import annotations

import math
from collections.abc import Iterator

from ..drawing import Caption, Item
from ..paths import Path, Point, polyline
from .alphabet import CAPITAL, alphabet, signs_of


def width_of(text: str, height: float) -> float:
    """Return how long *text* is with capitals *height* high, in the same unit."""
    letters = alphabet()
    return sum(letters[sign].advance for sign in signs_of(text)) * height / CAPITAL


def strokes_of(caption: Caption) -> tuple[Path, ...]:
    """Return the strokes of *caption*, mm, in the order of writing."""
    scale = caption.height / CAPITAL
    cosine, sine = _direction(caption.angle_deg)
    x, y = float(caption.at.x), float(caption.at.y)

    def place(along: float, up: float) -> Point:
        return Point(
            x + (along * cosine - up * sine) * scale, y + (along * sine + up * cosine) * scale
        )

    return tuple(
        polyline([place(*point) for point in stroke], closed=False)
        for stroke in _written(signs_of(caption.text))
    )


def _direction(angle_deg: float) -> tuple[float, float]:
    """Return cosine and sine, exact for quarter turns."""
    exact = {0.0: (1.0, 0.0), 90.0: (0.0, 1.0), 180.0: (-1.0, 0.0), 270.0: (0.0, -1.0)}
    angle = math.radians(angle_deg)
    return exact.get(angle_deg % 360, (math.cos(angle), math.sin(angle)))


def _written(text: str) -> Iterator[list[tuple[float, float]]]:
    """Yield the strokes of a line of text in units, from its left end."""
    at = 0
    for sign in text:
        letter = alphabet()[sign]
        for stroke in letter.strokes:
            yield [(at + x, y) for x, y in stroke]
        at += letter.advance


def items_of(caption: Caption) -> tuple[Item, ...]:
    """Return the strokes of *caption* as paths on its layer, named by its text."""
    return tuple(Item(caption.layer, path, caption.text) for path in strokes_of(caption))
