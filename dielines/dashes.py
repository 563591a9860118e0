"""A line as real dashes, for a machine that has no tool to score with."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

from .drawing import Drawing, Group, Item, Layer
from .errors import UsageError
from .paths import Path, Point, Segment, Vertex, arc_of, arc_point, length_of, segment_length

MAX_DASHES = 10_000  #: of one line


@dataclass(frozen=True, slots=True)
class Dashes:
    """How long the dashes are, at least how far apart, and how far from a line's ends, mm.

    Raises UsageError for what is no length, and for a gap of nothing.
    """

    dash: float
    gap: float
    keep: float = 1.0  #: clear at both ends, so that an edge does not tear

    def __post_init__(self) -> None:
        if not all(math.isfinite(size) for size in (self.dash, self.gap, self.keep)):
            raise UsageError("a dash, a gap or a distance that is no number")
        if self.dash <= 0 or self.gap <= 0 or self.keep < 0:
            raise UsageError(
                "a dash and a gap are more than 0, the distance from the ends is not less"
            )


def dashed(path: Path, dashes: Dashes) -> tuple[Path, ...]:
    """Return the dashes along *path*: the same from either end, gaps stretched to fit.

    A line too short for one dash and the distance from its ends gets a shorter
    dash, or none. Raises UsageError where more than MAX_DASHES would result.
    """
    total = length_of(path)
    room = total - 2 * dashes.keep
    if room <= 0:
        return ()
    if room <= dashes.dash:
        return (stretch(path, dashes.keep, total - dashes.keep),)
    count = math.floor((room + dashes.gap) / (dashes.dash + dashes.gap) + 1e-9)
    if count > MAX_DASHES:
        raise UsageError(f"a line of {total:.0f} mm in dashes of {dashes.dash} mm")
    if count == 1:
        middle = total / 2
        return (stretch(path, middle - dashes.dash / 2, middle + dashes.dash / 2),)
    step = (room - dashes.dash) / (count - 1)
    starts = [dashes.keep + i * step for i in range(count)]
    return tuple(stretch(path, start, start + dashes.dash) for start in starts)


def stretch(path: Path, start: float, end: float) -> Path:
    """Return the open path from *start* to *end*, measured along *path* in mm."""
    vertices: list[Vertex] = []
    last = Point(0.0, 0.0)
    for segment, passed in _with_distance(path):
        length = segment_length(segment)
        low, high = max(start - passed, 0.0), min(end - passed, length)
        if high - low <= 1e-9:
            continue
        vertices.append(Vertex(*_point_at(segment, low / length), _bulge_of(segment, low, high)))
        last = _point_at(segment, high / length)
    return Path((*vertices, Vertex(*last)), closed=False)


def _with_distance(path: Path) -> Iterator[tuple[Segment, float]]:
    """Yield each segment with the length of those before it."""
    segments = list(path.segments())
    distances = itertools.accumulate(map(segment_length, segments), initial=0.0)
    return zip(segments, distances, strict=False)


def _point_at(segment: Segment, share: float) -> Point:
    """Return the point at *share* of the way; the ends exactly as they are."""
    if share <= 0 or share >= 1:
        return segment.end if share >= 1 else segment.start
    if segment.bulge:
        return Point(*arc_point(arc_of(segment), share))
    (x0, y0), (x1, y1), _ = segment
    return Point(float(x0) + share * float(x1 - x0), float(y0) + share * float(y1 - y0))


def _bulge_of(segment: Segment, low: float, high: float) -> float:
    """Return the bulge of the piece from *low* to *high* (mm): the tangent of a quarter of its angle."""
    if not segment.bulge:
        return 0.0
    arc = arc_of(segment)
    return math.copysign(math.tan((high - low) / arc.radius / 4), arc.sweep)


def with_dashes(drawing: Drawing, layers: frozenset[Layer], dashes: Dashes) -> Drawing:
    """Return *drawing* with every path on *layers* as dashes on PERFORATE."""
    groups = tuple(_group_with_dashes(group, layers, dashes) for group in drawing.groups)
    return replace(drawing, groups=groups)


def _group_with_dashes(group: Group, layers: frozenset[Layer], dashes: Dashes) -> Group:
    items = itertools.chain.from_iterable(
        (Item(Layer.PERFORATE, piece, item.name) for piece in dashed(item.path, dashes))
        if item.layer in layers
        else (item,)
        for item in group.items
    )
    return replace(group, items=tuple(items))
