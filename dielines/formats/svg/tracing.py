"""A pen that is moved in user units and leaves paths on the page.

The page is in millimetres with y down still; lines and circular arcs arrive
there exactly, all other curves as chords within TOLERANCE of them.
"""

from __future__ import annotations

import math

from ...paths import Path, Vertex
from ..beziers import chord_count as cubic_chords
from ..beziers import on_cubic
from ..out_of_bounds import MAX_COORDINATE, OutOfBounds
from .arcs import ArcWords, Sweep, bends, chord_count, is_circular, mapped_sweep, sweep_of
from .bounds import Allowance
from .transforms import Matrix, apply

TOLERANCE = 0.01  #: mm; how far a chord may lie off a curve that is no circular arc
SAME_PLACE = 1e-6  #: mm; a path that comes back this close to its start and closes has arrived

Place = tuple[float, float]


class Pen:
    """Draws paths; *matrix* takes user units to the page."""

    def __init__(self, matrix: Matrix, allowance: Allowance) -> None:
        """Start with nothing drawn, at the origin of the user units."""
        self.paths: list[Path] = []
        self.here: Place = (0.0, 0.0)  #: in user units
        self._matrix = matrix
        self._allowance = allowance
        self._start: Place = (0.0, 0.0)
        self._vertices: list[Vertex] = []

    def move(self, x: float, y: float) -> None:
        """Lift the pen and begin a new path at (*x*, *y*)."""
        self.lift()
        self._allowance.take_steps(1)
        self.here = self._start = (x, y)

    def line(self, x: float, y: float) -> None:
        """Draw a straight line."""
        self._begin()
        self._arrive(0.0, *apply(self._matrix, x, y))
        self.here = (x, y)

    def quadratic(self, control: Place, end: Place) -> None:
        """Draw a quadratic Bézier curve as chords."""
        (x0, y0), (x1, y1), (x2, y2) = self.here, control, end
        self.cubic(
            (x0 + (x1 - x0) * 2 / 3, y0 + (y1 - y0) * 2 / 3),
            (x2 + (x1 - x2) * 2 / 3, y2 + (y1 - y2) * 2 / 3),
            end,
        )

    def cubic(self, first: Place, second: Place, end: Place) -> None:
        """Draw a cubic Bézier curve as chords."""
        self._begin()
        points = [apply(self._matrix, *place) for place in (self.here, first, second, end)]
        count = _count(cubic_chords(points, TOLERANCE))
        self._allowance.take_steps(count)
        for i in range(1, count):
            self._arrive(0.0, *on_cubic(points, i / count))
        self._arrive(0.0, *points[3])
        self.here = end

    def arc(self, words: ArcWords, end: Place) -> None:
        """Draw an elliptical arc: as true arcs where the page shows a circle, else as chords."""
        self._allowance.take_steps(1)
        if end == self.here:
            return  # SVG 2: "the elliptical arc segment is omitted entirely"
        sweep = sweep_of(self.here, words, end)
        if sweep is None:
            self.line(*end)
            return
        self._begin()
        self._sweep(mapped_sweep(self._matrix, sweep), apply(self._matrix, *end))
        self.here = end

    def _sweep(self, sweep: Sweep, goal: Place) -> None:
        _check(*goal, *sweep.matrix)
        if is_circular(sweep):
            *inner, last = bends(sweep)
            for bend in inner:
                self._arrive(*bend)
            self._arrive(last.bulge, *goal)
            return
        count = _count(chord_count(sweep, TOLERANCE))
        self._allowance.take_steps(count)
        for i in range(1, count):
            self._arrive(0.0, *sweep.point(i / count))
        self._arrive(0.0, *goal)

    def close(self) -> None:
        """Draw a line to the start of the path unless the pen is there, and close it."""
        self._allowance.take_steps(1)
        vertices = self._vertices
        if len(vertices) > 1 and _distance(vertices[0], vertices[-1]) <= SAME_PLACE:
            vertices.pop()
        if len(vertices) > 1:
            self.paths.append(Path(tuple(vertices), closed=True))
        self._vertices = []
        self.here = self._start

    def lift(self) -> None:
        """End the path, open as it is; one without a segment leaves nothing."""
        if len(self._vertices) > 1:
            self.paths.append(Path(tuple(self._vertices), closed=False))
        self._vertices = []

    def _begin(self) -> None:
        """Set the pen down where it is, if it is not down already."""
        if not self._vertices:
            x, y = apply(self._matrix, *self.here)
            _check(x, y)
            self._start = self.here
            self._vertices.append(Vertex(x, y, 0.0))

    def _arrive(self, bulge: float, x: float, y: float) -> None:
        """Add a segment to (*x*, *y*) on the page; one without length is left out."""
        self._allowance.take_steps(1)
        _check(x, y)
        last = self._vertices[-1]
        if (last.x, last.y) == (x, y):
            return
        if bulge:
            self._vertices[-1] = Vertex(last.x, last.y, bulge)
        self._vertices.append(Vertex(x, y, 0.0))


def _check(*numbers: float) -> None:
    if not all(abs(number) <= MAX_COORDINATE for number in numbers):
        raise OutOfBounds("number-out-of-range", "it lies more than a kilometre away, or nowhere")


def _count(chords: float) -> int:
    """Return the number of chords, at least one; what is no number has been refused before."""
    return max(math.ceil(chords), 1) if chords < MAX_COORDINATE else int(MAX_COORDINATE)


def _distance(first: Vertex, second: Vertex) -> float:
    return math.hypot(second.x - first.x, second.y - first.y)
