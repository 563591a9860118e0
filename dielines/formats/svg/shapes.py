"""The basic shapes of SVG, drawn with a pen.

Source: SVG 2, shapes.html: what is missing is 0, a negative radius counts as
missing, a missing one equals the other, and radii of a rectangle are clamped
to half of its sides. A shape without width, height or radius draws nothing.
Each drawing function returns whether the whole of the element made sense.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator

from .arcs import ArcWords
from .measures import Direction, Measures
from .numbers import NUMBER, WHITE, number_of
from .path_commands import draw_path
from .tracing import Pen, Place
from .tree import Element

_NUMBER = re.compile(rf"[{WHITE}]*,?[{WHITE}]*({NUMBER})")


def draw_shape(element: Element, measures: Measures, pen: Pen) -> bool:
    """Draw *element*, one of SHAPES; return whether all of it made sense."""
    return SHAPES[element.tag](element, measures, pen)


def _path(element: Element, measures: Measures, pen: Pen) -> bool:
    return draw_path(element.get("d"), pen)


def _rectangle(element: Element, measures: Measures, pen: Pen) -> bool:
    x, width = _across(element, measures, "x", "width")
    y, height = _along(element, measures, "y", "height")
    if width <= 0 or height <= 0:
        return False
    rx, ry = _radii(element, measures)
    rx, ry = min(rx, width / 2), min(ry, height / 2)
    if rx > 0 and ry > 0:
        _rounded(pen, (x, y), (x + width, y + height), (rx, ry))
    else:
        pen.move(x, y)
        for corner in ((x + width, y), (x + width, y + height), (x, y + height)):
            pen.line(*corner)
        pen.close()
    return True


def _rounded(pen: Pen, low: Place, high: Place, radii: Place) -> None:
    """Draw a rectangle with quarter ellipses for corners, clockwise from the top left."""
    (x0, y0), (x1, y1), (rx, ry) = low, high, radii
    quarter = ArcWords(rx, ry, 0, False, True)
    sides = (
        ((x0 + rx, y0), (x1 - rx, y0)),
        ((x1, y0 + ry), (x1, y1 - ry)),
        ((x1 - rx, y1), (x0 + rx, y1)),
        ((x0, y1 - ry), (x0, y0 + ry)),
    )
    pen.move(*sides[0][0])
    for (_, end), (following, _) in zip(sides, (*sides[1:], sides[0]), strict=True):
        pen.line(*end)
        pen.arc(quarter, following)
    pen.close()


def _circle(element: Element, measures: Measures, pen: Pen) -> bool:
    radius = measures.length(element, "r", Direction.OTHER) or 0.0
    return _oval(element, measures, pen, (radius, radius))


def _ellipse(element: Element, measures: Measures, pen: Pen) -> bool:
    return _oval(element, measures, pen, _radii(element, measures))


def _oval(element: Element, measures: Measures, pen: Pen, radii: Place) -> bool:
    """Draw an ellipse as two halves, clockwise from its right end."""
    x, _ = _across(element, measures, "cx", "width")
    y, _ = _along(element, measures, "cy", "height")
    rx, ry = radii
    if rx <= 0 or ry <= 0:
        return False
    half = ArcWords(rx, ry, 0, False, True)
    pen.move(x + rx, y)
    pen.arc(half, (x - rx, y))
    pen.arc(half, (x + rx, y))
    pen.close()
    return True


def _line(element: Element, measures: Measures, pen: Pen) -> bool:
    x1, x2 = _across(element, measures, "x1", "x2")
    y1, y2 = _along(element, measures, "y1", "y2")
    pen.move(x1, y1)
    pen.line(x2, y2)
    pen.lift()
    return True


def _polyline(element: Element, measures: Measures, pen: Pen) -> bool:
    is_whole = _points(element, pen)
    pen.lift()
    return is_whole


def _polygon(element: Element, measures: Measures, pen: Pen) -> bool:
    is_whole = _points(element, pen)
    pen.close()
    return is_whole


def _points(element: Element, pen: Pen) -> bool:
    """Draw lines through the points of *element*, as far as they are points."""
    numbers = _number_list(element.get("points"))
    draw = pen.move
    for x in numbers:
        y = next(numbers, None)
        if x is None or y is None:
            return False
        draw(x, y)
        draw = pen.line
    return True


def _number_list(text: str) -> Iterator[float | None]:
    """Yield the numbers of *text*, and None at the end where an error cuts it short."""
    position, end = 0, len(text.rstrip(WHITE))
    while position < end:
        match = _NUMBER.match(text, position)
        number = number_of(match[1]) if match else None
        yield number
        if match is None or number is None:
            return
        position = match.end()


def _across(element: Element, measures: Measures, *names: str) -> tuple[float, float]:
    return _pair(element, measures, names, Direction.ACROSS)


def _along(element: Element, measures: Measures, *names: str) -> tuple[float, float]:
    return _pair(element, measures, names, Direction.ALONG)


def _pair(
    element: Element, measures: Measures, names: tuple[str, ...], direction: Direction
) -> tuple[float, float]:
    """Return two lengths of *element*; what is missing is 0."""
    first, second = (measures.length(element, name, direction) or 0.0 for name in names)
    return first, second


def _radii(element: Element, measures: Measures) -> tuple[float, float]:
    """Return both radii; one that is missing or negative equals the other."""
    rx = measures.length(element, "rx", Direction.ACROSS)
    ry = measures.length(element, "ry", Direction.ALONG)
    rx = None if rx is None or rx < 0 else rx
    ry = None if ry is None or ry < 0 else ry
    return (rx if rx is not None else ry or 0.0), (ry if ry is not None else rx or 0.0)


SHAPES: dict[str, Callable[[Element, Measures, Pen], bool]] = {
    "path": _path,
    "rect": _rectangle,
    "circle": _circle,
    "ellipse": _ellipse,
    "line": _line,
    "polyline": _polyline,
    "polygon": _polygon,
}
