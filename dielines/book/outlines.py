"""What a person sees in an outline: notches in its edges, round corners, and the corners left."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from ..paths import Bounds, Path, Point, Segment, Vertex, bounds_of

NEAR = 1e-6  #: mm; what lies closer is in one place
QUARTER = math.tan(math.pi / 8)  #: bulge of a quarter of a circle
STYLES = {1: "round", 2: "vee", 3: "square"}  #: by the number of segments


@dataclass(frozen=True, slots=True)
class Detail:
    """Segments of an outline that make a notch or a round corner.

    *style* is round, vee or square; *where* the edge that a notch opens to, or
    the corner that is round: "right", "top left".
    """

    style: str
    where: str
    box: Bounds
    first: int
    count: int
    diameter: float = 0.0  #: of the circle of a round notch, mm
    beyond: float = 0.0  #: mm; how far outside of its edge the middle of that circle lies

    def indices(self, total: int) -> set[int]:
        """Return the vertices at its ends and between, of an outline of *total* segments."""
        return {(self.first + i) % total for i in range(self.count + 1)}


def notches_of(outline: Path) -> list[Detail]:
    """Return the notches of a counter-clockwise *outline*: bays of one to three segments."""
    segments = list(outline.segments())
    edges = [edge_of(segment) for segment in segments]
    total = len(segments)
    return [
        notch
        for first in range(total)
        for count in STYLES
        if count < total - 1
        and edges[first - 1]
        and edges[first - 1] == edges[(first + count) % total]
        for notch in _notch(segments, first, count, edges[first - 1])
    ]


def _notch(segments: Sequence[Segment], first: int, count: int, edge: str) -> Iterator[Detail]:
    """Yield the notch in *edge* that *count* segments from *first* make, if they do."""
    total = len(segments)
    before, after = segments[first - 1], segments[(first + count) % total]
    if not _continues(before, after, edge):
        return
    taken = [segments[(first + i) % total] for i in range(count)]
    arcs = [segment.bulge for segment in taken if segment.bulge]
    is_bay = arcs[0] < 0 if count == 1 and arcs else not arcs and _is_bay(taken, edge)
    if is_bay:
        circle = _circle(taken[0]) if arcs else (0.0, 0.0)
        yield Detail(STYLES[count], edge, _box(taken), first, count, *circle)


def _circle(arc: Segment) -> tuple[float, float]:
    """Return the diameter of the circle of *arc*, and how far its middle lies from the chord.

    The middle lies on the other side than the arc where that is less than half a
    circle. With the chord c and the bulge b: diameter c (1 + b^2) / 2b, distance
    c (1 - b^2) / 4b (plane geometry; the bulge is the tangent of a quarter of the angle).
    """
    chord = math.dist(arc.start, arc.end)
    bulge = abs(float(arc.bulge))
    return chord * (1 + bulge**2) / (2 * bulge), chord * (1 - bulge**2) / (4 * bulge)


def _continues(before: Segment, after: Segment, edge: str) -> bool:
    """Return whether *after* runs on in the line of *before*, some way ahead."""
    dx, dy = after.start.x - before.end.x, after.start.y - before.end.y
    ahead, aside = {
        "right": (dy, dx), "left": (-dy, dx), "bottom": (dx, dy), "top": (-dx, dy),
    }[edge]  # fmt: skip
    return ahead > NEAR and abs(float(aside)) <= NEAR


def _is_bay(taken: Sequence[Segment], edge: str) -> bool:
    """Return whether all corners between the ends of *taken* lie inside of the edge."""
    start = taken[0].start
    depths = [
        {
            "right": start.x - point.x,
            "left": point.x - start.x,
            "bottom": point.y - start.y,
            "top": start.y - point.y,
        }[edge]
        for point in (segment.end for segment in taken[:-1])
    ]
    return bool(depths) and min(depths) > NEAR


def edge_of(segment: Segment) -> str:
    """Return the side of a part at which a level or upright segment runs, or nothing.

    Counter-clockwise, an edge at the right runs up and one at the top to the left.
    """
    # To compare a fraction with the float NEAR would take longer than all else here.
    dx, dy = float(segment.end.x - segment.start.x), float(segment.end.y - segment.start.y)
    if segment.bulge or (abs(dx) > NEAR and abs(dy) > NEAR):
        return ""
    if abs(dx) <= NEAR:
        return "right" if dy > 0 else "left"
    return "bottom" if dx > 0 else "top"


def roundings_of(outline: Path) -> list[Detail]:
    """Return the corners that are a quarter of a circle, between a level and an upright edge."""
    segments = list(outline.segments())
    found = []
    for i, segment in enumerate(segments):
        if abs(float(segment.bulge) - QUARTER) < NEAR:
            edges = {edge_of(segments[i - 1]), edge_of(segments[(i + 1) % len(segments)])}
            words = [word for word in ("top", "bottom", "left", "right") if word in edges]
            if len(words) == 2:
                found.append(Detail("round", " ".join(words), _box([segment]), i, 1))
    return found


def corners_of(outline: Path) -> tuple[Point, ...]:
    """Return the corners, clockwise from the top left, but for those of notches and round corners.

    None for a rectangle, whatever is cut into it or round about it.
    """
    total = len(outline.vertices)
    details = [*notches_of(outline), *roundings_of(outline)]
    left_out = {index for detail in details for index in detail.indices(total)}
    kept = [vertex.point for i, vertex in enumerate(outline.vertices) if i not in left_out]
    box = bounds_of([outline])
    if all(_is_corner(point, box) for point in kept):
        return ()
    start = min(range(len(kept)), key=lambda i: (kept[i].x - kept[i].y, kept[i].x))
    return tuple(reversed((*kept[start + 1 :], *kept[: start + 1])))


def _is_corner(point: Point, box: Bounds) -> bool:
    return any(abs(float(point.x - x)) <= NEAR for x in (box.left, box.right)) and any(
        abs(float(point.y - y)) <= NEAR for y in (box.bottom, box.top)
    )


def _box(taken: Sequence[Segment]) -> Bounds:
    vertices = [Vertex(*segment.start, segment.bulge) for segment in taken]
    return bounds_of([Path((*vertices, Vertex(*taken[-1].end)), closed=False)])
