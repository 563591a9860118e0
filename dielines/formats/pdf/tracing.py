"""A pen that is moved in units of the page and leaves paths in millimetres.

Lines arrive exactly. A curve that stands for a circular arc becomes that arc, and
arcs that run on along the same circle become one of up to half a circle; other
curves become chords.
"""

from __future__ import annotations

import math
from typing import NamedTuple

from ...paths import Path, Point, Segment, Vertex, arc_of, arc_point
from ..beziers import Curve, bulge_of, chord_count, on_cubic
from ..out_of_bounds import MAX_COORDINATE, OutOfBounds
from ..svg.transforms import Matrix, apply
from .bounds import Allowance

TOLERANCE = 0.01  #: mm; how far an arc or a chord may lie off the curve that it is read from
SAME_PLACE = 1e-6  #: mm; a path that comes back this close to its start and closes has arrived
SAME_CIRCLE = 1e-5  #: mm; arcs run on when the arc through both is no farther off than this

_HALF_CIRCLE = math.pi + 1e-4  # places of tiny circles are rounded
_MOST_JOINED = 64  # places on one arc that are held against it

Place = tuple[float, float]


class _Bend(NamedTuple):
    """A segment: how it leaves, its bulge, and where it ends; *middles* lie on its arc."""

    start: Place
    bulge: float
    end: Place
    middles: tuple[Place, ...] = ()


class Pen:
    """Draws the paths that are painted next; *matrix* takes units of the page to mm."""

    def __init__(self, allowance: Allowance) -> None:
        """Start with nothing drawn."""
        self._allowance = allowance
        self._start: Place = (0.0, 0.0)
        self._here: Place = (0.0, 0.0)
        self._bends: list[_Bend] = []
        self._paths: list[Path] = []

    def move(self, matrix: Matrix, x: float, y: float) -> None:
        """Lift the pen and begin a new path at (*x*, *y*)."""
        self._lift()
        self._start = self._here = self._place(matrix, x, y)

    def line(self, matrix: Matrix, x: float, y: float) -> None:
        """Draw a straight line."""
        self._arrive(0.0, self._place(matrix, x, y))

    def curve(self, matrix: Matrix, first: Place | None, second: Place, end: Place) -> None:
        """Draw a cubic Bézier curve; without a *first* handle it leaves from where the pen is."""
        leaving = self._here if first is None else self._place(matrix, *first)
        curve = Curve(leaving, self._place(matrix, *second), self._place(matrix, *end))
        bulge = bulge_of(self._here, curve, TOLERANCE)
        if bulge is None:
            self._chords(curve)
        else:
            self._arrive(bulge, curve.end)

    def _chords(self, curve: Curve) -> None:
        points = (self._here, *curve)
        count = max(math.ceil(chord_count(points, TOLERANCE)), 1)
        self._allowance.take_steps(count)
        for i in range(1, count):
            self._arrive(0.0, on_cubic(points, i / count))
        self._arrive(0.0, curve.end)

    def box(self, matrix: Matrix, x: float, y: float, width: float, height: float) -> None:
        """Draw a closed rectangle."""
        self.move(matrix, x, y)
        for corner in ((x + width, y), (x + width, y + height), (x, y + height)):
            self.line(matrix, *corner)
        self.close()

    def close(self) -> None:
        """Draw a line to the start of the path unless the pen is there, and close it."""
        bends = self._bends
        if bends and math.dist(bends[-1].end, self._start) <= SAME_PLACE:
            bends[-1] = bends[-1]._replace(end=self._start)
        elif bends:
            self._arrive(0.0, self._start)
        if len(bends) > 1:
            vertices = tuple(Vertex(*bend.start, bend.bulge) for bend in bends)
            self._paths.append(Path(vertices, closed=True))
        self._bends = []
        self._here = self._start

    def painted(self) -> list[Path]:
        """Return the paths drawn so far, and forget them."""
        self._lift()
        paths, self._paths = self._paths, []
        return paths

    def _lift(self) -> None:
        """End the path, open as it is; one without a segment leaves nothing."""
        if self._bends:
            vertices = [Vertex(*bend.start, bend.bulge) for bend in self._bends]
            end = Vertex(*self._bends[-1].end, 0.0)
            self._paths.append(Path((*vertices, end), closed=False))
        self._bends = []

    def _place(self, matrix: Matrix, x: float, y: float) -> Place:
        place = apply(matrix, x, y)
        if not all(abs(side) <= MAX_COORDINATE for side in place):
            raise OutOfBounds("number-out-of-range", "it lies more than a kilometre away")
        return place

    def _arrive(self, bulge: float, end: Place) -> None:
        """Add a segment, or lengthen the arc before it; one without length is left out."""
        self._allowance.take_steps(1)
        if end == self._here:
            return
        bend = _Bend(self._here, bulge, end)
        joined = _joined(self._bends[-1], bend) if bulge and self._bends else None
        if joined:
            self._bends[-1] = joined
        else:
            self._bends.append(bend)
        self._here = end


def _joined(first: _Bend, second: _Bend) -> _Bend | None:
    """Return both arcs as one where they lie on one circle and reach half of it at most."""
    quarter = math.atan(first.bulge) + math.atan(second.bulge)
    turns_on = first.bulge * second.bulge > 0 and abs(quarter) <= _HALF_CIRCLE / 4
    if not turns_on or len(first.middles) > _MOST_JOINED:
        return None
    bulge = math.tan(quarter)
    middles = (*first.middles, first.end, *map(_middle, (first, second)))
    whole = arc_of(Segment(Point(*first.start), Point(*second.end), bulge))
    off = max(abs(math.dist(whole.centre, place) - whole.radius) for place in middles)
    return _Bend(first.start, bulge, second.end, middles) if off <= SAME_CIRCLE else None


def _middle(bend: _Bend) -> Place:
    return arc_point(arc_of(Segment(Point(*bend.start), Point(*bend.end), bend.bulge)), 0.5)
