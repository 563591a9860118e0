"""From flat pieces in space to what is filled and which lines are drawn, seen from somewhere."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import combinations
from typing import TYPE_CHECKING, Any

from ..models.facets import Facet
from ..models.patches import EdgeKind
from .camera import Camera
from .covering import PIERCED, Seen, Shape, Sheet, minus, seen
from .tints import Tint, shaded

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Array = NDArray[Any]

Line = tuple[tuple[float, float], ...]

EDGE_ON = 0.02  #: cosine between a normal and the way to the viewer below which nothing is filled
LEAST_FILL = 1e-3  #: mm2, of what can be seen of a piece
LEAST_LINE = 0.05  #: mm; shorter pieces of a line are noise
LIGHT = (
    -0.36,
    0.24,
    0.9,
)  #: from where the light comes, beside, behind and above the viewer's table


@dataclass(frozen=True)
class Fill:
    """A shape of one colour; *label_region* is what can be seen of it, *shows_face* its side."""

    facet: Facet
    shape: Shape
    region: Shape
    colour: str
    shows_face: bool


@dataclass(frozen=True)
class Painting:
    """Fills in the order in which they are painted, then lines on top; mm across and up."""

    fills: tuple[Fill, ...]
    lines: Mapping[EdgeKind, tuple[Line, ...]]
    hidden: tuple[Line, ...]
    bounds: tuple[float, float, float, float]  #: left, bottom, right, top

    def around(self, points: Iterable[Sequence[float]]) -> Painting:
        """Return the same painting with bounds that hold *points* as well."""
        left, bottom, right, top = self.bounds
        across, up = zip(*points, strict=True)
        box = (min(left, *across), min(bottom, *up), max(right, *across), max(top, *up))
        return replace(self, bounds=box)


def painting(
    facets: Sequence[Facet],
    camera: Camera,
    tint_of: Callable[[Facet], Tint],
    over: frozenset[tuple[str, str]] = frozenset(),
    inset: float | None = None,
    pierced: float = PIERCED,
) -> Painting:
    """Return what is drawn of *facets*.

    *over* holds pairs of panels in one plane (of one part), the first lying on the
    side of the second to which that one's face looks. With *inset*, free edges that
    are covered become dashes, except within so many mm of the border of what covers. *pierced* is as for `seen`.
    """
    flat = [_Projected(facet, camera) for facet in facets]
    filled = [one for one in flat if abs(one.facing) > EDGE_ON]
    sheets = [Sheet(one.shape, one.plane) for one in filled]
    found = seen(sheets, list(_ties(filled, over)), pierced)
    fills = [_fill(filled[item.number], item, tint_of) for item in reversed(found)]
    lines: dict[EdgeKind, list[Line]] = {kind: [] for kind in EdgeKind if kind is not EdgeKind.NONE}
    hidden: list[Line] = []
    for item in reversed(found):
        one = filled[item.number]
        if inset is not None:
            hidden += _covered_outlines(one, item, inset)
        for kind, runs in one.runs().items() if _is_seen(item) else ():
            lines[kind] += _uncovered(runs, item.covers)
    return Painting(
        tuple(fill for fill in fills if fill is not None),
        {kind: tuple(found_lines) for kind, found_lines in lines.items()},
        tuple(hidden),
        _bounds(flat),
    )


class _Projected:
    """A facet as it is seen: its shape on the picture, its plane, its lines."""

    def __init__(self, facet: Facet, camera: Camera) -> None:
        import numpy as np
        import shapely

        self.facet = facet
        self.rings = [camera.seen(ring) for ring in facet.rings]
        normal = camera.rows @ facet.normal
        self.facing = float(normal[2])
        self.light = abs(float(facet.normal @ np.array(LIGHT)))
        corners = [ring[:, :2] for ring in self.rings]
        shape = shapely.Polygon(corners[0], corners[1:]) if abs(self.facing) > EDGE_ON else None
        self.shape: Any = shape if shape is None or shape.is_valid else shape.buffer(0)
        self.plane = _plane(normal, self.rings[0][0]) if shape is not None else (0.0, 0.0, 0.0)
        self.camera = camera

    def runs(self) -> dict[EdgeKind, list[Array]]:
        """Return the rows of points that are drawn, by kind."""
        found: dict[EdgeKind, list[Array]] = {}
        for ring, kinds in zip(self.rings, self.facet.kinds, strict=True):
            for kind, run in _runs(ring, kinds):
                found.setdefault(kind, []).append(run)
        for places, kind in self.facet.details:
            found.setdefault(kind, []).append(self.camera.seen(places)[:, :2])
        return found


def _plane(normal: Array, place: Array) -> tuple[float, float, float]:
    """Return depth as a function of place: a x + b y + c."""
    a, b = -float(normal[0] / normal[2]), -float(normal[1] / normal[2])
    return a, b, float(place[2] - a * place[0] - b * place[1])


def _runs(ring: Array, kinds: Sequence[EdgeKind]) -> Iterator[tuple[EdgeKind, Array]]:
    """Yield the edges of a ring that are drawn, those of one kind in a row together."""
    import numpy as np

    count = len(kinds)
    starts = [i for i in range(count) if kinds[i] is not kinds[i - 1]]
    if not starts:
        if count and kinds[0] is not EdgeKind.NONE:
            yield kinds[0], np.vstack([ring, ring[:1]])[:, :2]
        return
    for start, after in zip(starts, [*starts[1:], starts[0] + count], strict=True):
        if kinds[start] is not EdgeKind.NONE:
            yield kinds[start], ring[[i % count for i in range(start, after + 1)], :2]


def _ties(
    filled: Sequence[_Projected], over: frozenset[tuple[str, str]]
) -> Iterator[tuple[int, int]]:
    """Yield (nearer, farther) of what lies in one plane and has a known order.

    Of half turns round each other the outer one, which is larger, is nearer.
    """
    joints = [i for i, one in enumerate(filled) if not one.facet.panel]
    for a, b in combinations(sorted(joints, key=lambda i: -filled[i].shape.area), 2):
        if filled[a].facet.owner == filled[b].facet.owner:
            yield a, b
    numbers = {one.facet.panel: i for i, one in enumerate(filled) if one.facet.panel}
    for upper, lower in sorted(over):
        if upper in numbers and lower in numbers:
            a, b = numbers[upper], numbers[lower]
            yield (a, b) if filled[b].facing > 0 else (b, a)


def _is_seen(item: Seen) -> bool:
    return bool(item.region.area > LEAST_FILL)


def _fill(one: _Projected, item: Seen, tint_of: Callable[[Facet], Tint]) -> Fill | None:
    if not _is_seen(item):
        return None
    tint = tint_of(one.facet)
    colour = shaded(tint.face if one.facing > 0 else tint.reverse, one.light)
    shape = item.region if item.is_in_circle else one.shape
    return Fill(one.facet, shape, item.region, colour, one.facing > 0)


def _uncovered(runs: Iterable[Array], covers: Shape | None) -> Iterator[Line]:
    import shapely

    for run in runs:
        if covers is None:
            yield tuple(map(tuple, run.tolist()))
        else:
            yield from _pieces(minus(shapely.LineString(run), covers))


def _covered_outlines(one: _Projected, item: Seen, inset: float) -> Iterator[Line]:
    """Yield what is covered of the free edges, away from the border of what covers them."""
    import shapely

    if item.covers is None:
        return
    inner = item.covers.buffer(-inset, quad_segs=2)
    for run in one.runs().get(EdgeKind.OUTLINE, []):
        yield from _pieces(shapely.intersection(shapely.LineString(run), inner), 0.5)


def _pieces(lines: Shape, least: float = LEAST_LINE) -> Iterator[Line]:
    import shapely

    merged = shapely.line_merge(lines) if lines.geom_type == "MultiLineString" else lines
    for piece in shapely.get_parts(merged):
        if piece.geom_type == "LineString" and piece.length > least:
            yield tuple(map(tuple, shapely.get_coordinates(piece).tolist()))


def _bounds(flat: Sequence[_Projected]) -> tuple[float, float, float, float]:
    import numpy as np

    places = np.vstack([ring for one in flat for ring in one.rings])
    (left, bottom), (right, top) = places[:, :2].min(axis=0), places[:, :2].max(axis=0)
    return float(left), float(bottom), float(right), float(top)
