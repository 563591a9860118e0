"""What covers what: the order in which shapes are painted, and what of each can be seen.

Method: shapes in parallel planes compare by their planes; others by the depth of
both planes at the corners of their overlap, since the difference of two planes is
linear. A topological order follows, nearest first. Shapes that cover each other in a
circle, or that pass through each other, form a group: in it each loses the part
of every other shape that lies on the nearer side of the line where the two planes
are equally deep. Lines lose what lies behind nearer shapes, exactly.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from graphlib import CycleError, TopologicalSorter
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Array = NDArray[Any]

Shape = Any
"""A shapely geometry."""

SAME_DEPTH = 1e-4  #: mm; of two places no farther apart in depth none covers the other
PIERCED = 0.02  #: mm in depth to both sides, from which one sheet passes through another
LEAST_AREA = 1e-4  #: mm2; overlaps below are edges that touch
PARALLEL = 1e-9
GRID = 1e-6  #: mm; corners are rounded to it where an overlay fails without


@dataclass(frozen=True)
class Sheet:
    """A shape on the picture with its plane: depth = a x + b y + c, larger is nearer."""

    shape: Shape
    plane: tuple[float, float, float]


@dataclass(frozen=True)
class Seen:
    """What can be seen of one sheet: its *region*, and what *covers* it (None: nothing)."""

    number: int
    region: Shape
    covers: Shape | None
    is_in_circle: bool


def seen(
    sheets: Sequence[Sheet], ties: Sequence[tuple[int, int]] = (), pierced: float = PIERCED
) -> list[Seen]:
    """Return what can be seen of each sheet, the nearest first.

    *ties* are pairs (nearer, farther) of sheets in one plane, whose depth cannot tell.
    Sheets that reach less than *pierced* (mm in depth) through each other do not.
    """
    nearer = _nearer_pairs(sheets, dict.fromkeys(ties), pierced)
    found = []
    covered: Shape | None = None
    for group in _groups(len(sheets), nearer):
        for number in group:
            within = [other for other in group if (other, number) in nearer] if group[1:] else []
            found.append(_seen(sheets, number, covered, within, bool(group[1:]), nearer))
        covered = _joined(covered, [sheets[number].shape for number in group])
    return found


def _seen(
    sheets: Sequence[Sheet],
    number: int,
    covered: Shape | None,
    within: Sequence[int],
    is_in_circle: bool,
    nearer: set[tuple[int, int]],
) -> Seen:
    import shapely

    shape = sheets[number].shape
    pieces = [_part_in_front(sheets[o], sheets[number], (number, o) in nearer) for o in within]
    if pieces:
        covered = _union([*pieces, *([covered] if covered is not None else [])])
    if covered is None:
        return Seen(number, shape, None, is_in_circle)
    if covered.covers(shape):
        return Seen(number, shapely.Polygon(), covered, is_in_circle)
    return Seen(number, minus(shape, covered), covered, is_in_circle)


def _joined(covered: Shape | None, shapes: Sequence[Shape]) -> Shape:
    import shapely

    if covered is not None and all(covered.covers(shape) for shape in shapes):
        return covered
    joined = _union([*shapes, *([covered] if covered is not None else [])])
    shapely.prepare(joined)
    return joined


def _union(shapes: Sequence[Shape]) -> Shape:
    import shapely

    try:
        joined = shapely.union_all(shapes)
    except shapely.GEOSException:  # corners that nearly coincide
        return shapely.union_all(shapes, grid_size=GRID)
    return joined if joined.is_valid else shapely.union_all(shapes, grid_size=GRID)


def minus(shape: Shape, covers: Shape) -> Shape:
    """Return *shape* without what *covers* it."""
    import shapely

    try:
        rest = shapely.difference(shape, covers)
    except shapely.GEOSException:
        return shapely.difference(shape, covers, grid_size=GRID)
    return rest if rest.is_valid else shapely.difference(shape, covers, grid_size=GRID)


def _part_in_front(other: Sheet, sheet: Sheet, is_both_ways: bool) -> Shape:
    """Return what of *other* lies nearer than *sheet*: all of it, or what the planes tell."""
    if not is_both_ways:
        return other.shape
    return other.shape.intersection(_half_plane(other, sheet))


def _half_plane(other: Sheet, sheet: Sheet) -> Shape:
    """Return where *other* is nearer, as a large box beside the line of equal depth."""
    import numpy as np
    import shapely

    a, b, c = (p - q for p, q in zip(other.plane, sheet.plane, strict=True))
    steep = float(np.hypot(a, b))
    left, bottom, right, top = other.shape.union(sheet.shape).bounds
    reach = 2 * (abs(right - left) + abs(top - bottom)) + 1
    middle = np.array([(left + right) / 2, (bottom + top) / 2])
    slope = np.array([a, b]) / steep
    on_line = middle - slope * (slope @ middle + c / steep)
    along = np.array([-slope[1], slope[0]]) * reach
    far = slope * 2 * reach
    return shapely.Polygon(
        [on_line - along, on_line + along, on_line + along + far, on_line - along + far]
    )


def _nearer_pairs(
    sheets: Sequence[Sheet], ties: dict[tuple[int, int], None], pierced: float
) -> set[tuple[int, int]]:
    """Return all pairs (a, b) where some of a lies in front of some of b."""
    import numpy as np
    import shapely

    shapes = np.array([sheet.shape for sheet in sheets], dtype=object)
    planes = np.array([sheet.plane for sheet in sheets], float).reshape(-1, 3)
    first, second = shapely.STRtree(shapes).query(shapes, predicate="intersects")
    first, second = first[first < second], second[first < second]
    slopes = np.abs(planes[first, :2] - planes[second, :2]).max(axis=1, initial=0.0)
    scale = 1 + np.abs(planes[first, :2]).max(axis=1, initial=0.0)
    is_parallel = slopes <= PARALLEL * scale
    found = set(_by_planes(first[is_parallel], second[is_parallel], planes, ties))
    found.update(_by_corners(first[~is_parallel], second[~is_parallel], planes, shapes, pierced))
    return found


def _by_planes(
    first: Array, second: Array, planes: Array, ties: dict[tuple[int, int], None]
) -> Iterator[tuple[int, int]]:
    differences = planes[first, 2] - planes[second, 2]
    for a, b, difference in zip(first.tolist(), second.tolist(), differences.tolist(), strict=True):
        if abs(difference) > SAME_DEPTH:
            yield (a, b) if difference > 0 else (b, a)
        elif (a, b) in ties:
            yield a, b
        elif (b, a) in ties:
            yield b, a


def _by_corners(
    first: Array, second: Array, planes: Array, shapes: Array, pierced: float
) -> Iterator[tuple[int, int]]:
    import numpy as np
    import shapely

    overlaps = shapely.intersection(shapes[first], shapes[second])
    is_real = shapely.area(overlaps) > LEAST_AREA
    first, second, overlaps = first[is_real], second[is_real], overlaps[is_real]
    corners, index = shapely.get_coordinates(overlaps, return_index=True)
    difference = planes[first] - planes[second]
    depth = (corners * difference[index, :2]).sum(axis=1) + difference[index, 2]
    starts = np.flatnonzero(np.diff(index, prepend=-1))
    if not len(starts):
        return
    highest, lowest = np.maximum.reduceat(depth, starts), np.minimum.reduceat(depth, starts)
    rows = zip(first.tolist(), second.tolist(), highest.tolist(), lowest.tolist(), strict=True)
    for a, b, high, low in rows:
        is_through = high > pierced and low < -pierced
        if is_through or (high > SAME_DEPTH and high >= -low):
            yield a, b
        if is_through or (low < -SAME_DEPTH and high < -low):
            yield b, a


def _groups(count: int, nearer: set[tuple[int, int]]) -> list[list[int]]:
    """Return the numbers in groups, the nearest first; a group of more than one is a circle."""
    names = list(range(count))
    try:
        return [[number] for number in _in_order(names, nearer)]
    except CycleError:
        names = _circles(count, nearer)
    members: dict[int, list[int]] = {}
    for number, name in enumerate(names):
        members.setdefault(name, []).append(number)
    return [members[name] for name in _in_order(names, nearer)]


def _in_order(names: Sequence[int], nearer: set[tuple[int, int]]) -> list[int]:
    """Return the distinct *names* (of each number its circle's), the nearest first."""
    before: dict[int, list[int]] = {name: [] for name in names}
    for near, far in sorted(nearer):
        if names[near] != names[far]:
            before[names[far]].append(names[near])
    return list(TopologicalSorter(before).static_order())


def _circles(count: int, nearer: set[tuple[int, int]]) -> list[int]:
    """Return for each number the name of the circle that it is in (strongly connected)."""
    import numpy as np
    from scipy.sparse import coo_array
    from scipy.sparse.csgraph import connected_components

    near, far = np.array(sorted(nearer)).T
    graph = coo_array((np.ones(len(near)), (near, far)), shape=(count, count))
    names: list[int] = connected_components(graph, connection="strong")[1].tolist()
    return names
