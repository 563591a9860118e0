"""A ruler in inches and millimetres, to lay a real one against after printing."""

from __future__ import annotations

from collections.abc import Iterator

from ..drawing import Caption, Group, Item, Layer
from ..paths import Point, line

INCH = 25.4
TALL, MIDDLE, SHORT = 3.0, 2.0, 1.0  #: mm, of the ticks
LETTER = 2.0  #: mm, of a capital letter
HEIGHT = 2 * (TALL + LETTER + 1)  #: mm, of a ruler with its numbers


def ruler(key: str, left: float, bottom: float, inches: int) -> Group:
    """Return a ruler of so many *inches*, and 25 mm for each, drawn solid on LABEL.

    It stands with its zero at *left*; millimetres above its line, inches below.

    >>> ruler("r", 10, 0, 4).items[0].path.points
    (Point(x=10, y=6.0), Point(x=111.6, y=6.0))
    """
    base = bottom + HEIGHT / 2
    spine = line((left, base), (left + inches * INCH, base))
    lines = [spine, *(line((x, base), (x, base + rise)) for x, rise in _ticks(left, inches))]
    items = tuple(Item(Layer.LABEL, path, "ruler") for path in lines)
    return Group(key, "Ruler", items, tuple(_numbers(left, base, inches)))


def _ticks(left: float, inches: int) -> Iterator[tuple[float, float]]:
    """Yield where the ticks stand and how far they rise above the line."""
    for step in range(5 * inches + 1):
        yield left + 5 * step, SHORT if step % 2 else TALL if step % 10 == 0 else MIDDLE
    for quarter in range(4 * inches + 1):
        tall = SHORT if quarter % 2 else TALL if quarter % 4 == 0 else MIDDLE
        yield left + quarter * INCH / 4, -tall


def _numbers(left: float, base: float, inches: int) -> Iterator[Caption]:
    above, below = base + TALL + 0.7, base - TALL - 0.7 - LETTER
    for fifty in range(0, 25 * inches + 1, 50):
        word = f"{fifty} mm" if fifty else "0"
        yield Caption(Layer.LABEL, word, Point(left + fifty - LETTER / 3, above), LETTER)
    for inch in range(1, inches + 1):
        word = f"{inch} in" if inch == inches else str(inch)
        yield Caption(Layer.LABEL, word, Point(left + inch * INCH - LETTER / 3, below), LETTER)
