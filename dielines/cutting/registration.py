"""Marks that all files of a sheet have in common, so that one can be laid onto another.

Three small crosses in what falls off, near three corners of the area that the
machine reaches: a sheet laid the wrong way round does not fit them. They are the
only thing outside the outlines.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from ..drawing import Drawing, Group, Item, Layer
from ..errors import UsageError
from ..paths import Bounds, Path, flattened, line
from .contours import is_closed_cut

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

KEY = "registration"
#: Length of an arm, mm: the longest for which all three find room is taken. The
#: shortest fits into a gap of 1/8 in between parts.
ARMS = (4.0, 2.5, 1.0)
CLEAR = 0.5  #: mm, from a mark to the nearest cut
APART = 0.3  #: of the diagonal of the area: marks nearer to one another tell too little
FEWEST = 2  #: with two that are told apart by their places a sheet is laid rightly

Place = tuple[float, float]


def registration_marks(drawing: Drawing, reach: Bounds) -> Group:
    """Return the marks of *drawing* on MARK, all within *reach*; raises UsageError without room.

    Places are whole hundredths of a millimetre.
    """
    corners = _corners(reach)
    taken = _taken(drawing)
    tried = [(arm, _places(taken, reach, corners, arm)) for arm in ARMS]
    arm, places = max(tried, key=lambda found: (len(found[1]), found[0]))
    if len(places) < FEWEST:
        raise UsageError(
            f"{drawing.title or 'sheet'}: there is no room for registration marks. Leave a wider "
            "gap between the parts, or say registration_marks = false."
        )
    items = tuple(
        Item(Layer.MARK, path, f"registration mark {number}")
        for number, place in enumerate(places, 1)
        for path in cross(place, arm)
    )
    return Group(KEY, "Registration marks", items)


def cross(place: Place, arm: float) -> tuple[Path, Path]:
    """Return the two lines of a mark with its middle at *place*."""
    x, y = place
    return line((x - arm, y), (x + arm, y)), line((x, y - arm), (x, y + arm))


def _corners(reach: Bounds) -> tuple[Place, ...]:
    """Return the lower left, lower right and upper left corner of the area."""
    left, bottom, right, top = map(float, reach)
    return (left, bottom), (right, bottom), (left, top)


def _taken(drawing: Drawing) -> BaseGeometry:
    """Return what the outlines of *drawing* enclose, and all else that is worked."""
    from shapely import LineString, Polygon, union_all

    shapes: list[BaseGeometry] = []
    for item in drawing.items():
        if is_closed_cut(item):
            shapes.append(Polygon(flattened(item.path)).buffer(0))
        elif len(item.path.vertices) > 1:
            shapes.append(LineString(flattened(item.path)))
    return union_all(shapes)


def _places(
    taken: BaseGeometry, reach: Bounds, corners: Sequence[Place], arm: float
) -> list[Place]:
    """Return a free place for each corner, as near as can be, those left out that are too near others."""
    from shapely import box

    left, bottom, right, top = map(float, reach)
    if min(right - left, top - bottom) <= 2 * arm:
        return []
    inner = box(left + arm, bottom + arm, right - arm, top - arm)
    free = inner.difference(taken.buffer(arm + CLEAR))
    least = APART * math.dist(corners[1], corners[2])
    found: list[Place] = []
    for place in _nearest(free, corners):
        if all(math.dist(place, other) >= least for other in found):
            found.append(place)
    return found


def _nearest(free: BaseGeometry, corners: Sequence[Place]) -> Iterator[Place]:
    from shapely import Point as ShapelyPoint
    from shapely.ops import nearest_points

    for corner in corners if not free.is_empty else ():
        point, _ = nearest_points(free, ShapelyPoint(corner))
        yield round(point.x, 2), round(point.y, 2)
