"""Whether pages clear each other when they are turned.

Everything turns about upright lines, so this is a question in the cross-section of
the book: a panel is a stroke there (or a few, where it lies across), with the
heights between head and tail at which it is. Only the two leaves beside an opening
move against each other.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple

from ..book.book import Book
from ..paths import Path, flattened
from ..rigid import Pose
from .assembly import Assembly
from .case_places import BACK, FRONT
from .folded_part import FoldedPart
from .opening import Spot, motions
from .squares import is_grafted
from .web import Node, Web, ends_of, hinge_on, page_keys, way, web_of

#: Degrees at which an opening is looked at. Close together at first: that is where what is caught
#: in the other leaf passes through it.
ANGLES = (0.0, 0.25, 0.5, 1.0, 2.0, 4.0, 8.0, 16.0, 32.0, 60.0, 90.0, 120.0, 150.0, 180.0)

TOUCHING = 0.01  #: mm; what reaches less far into another only touches it
CHORD = 0.05  #: mm; arcs are chords no farther off
LEVEL = 0.999  #: the cosine of the slope from which a panel counts as lying


class Collision(NamedTuple):
    """Two panels of neighbouring leaves that are in each other's way, and how deep (mm)."""

    opening: int
    angle_deg: float
    front: Node
    back: Node
    depth: float


class Stroke(NamedTuple):
    """What the cross-section shows of a panel: from where to where, and between which heights."""

    node: Node
    start: Spot
    end: Spot
    low: float
    high: float
    is_level: bool


def collisions(
    book: Book,
    parts: Mapping[str, FoldedPart],
    assembly: Assembly,
    angles_deg: Sequence[float] = ANGLES,
) -> Iterator[Collision]:
    """Yield the deepest collision of each opening between two pages at which there is one."""
    web = web_of(book, parts, assembly.tree)
    for opening in range(1, len(page_keys(book))):
        found = list(collisions_at(book, parts, assembly, web, opening, angles_deg))
        if found:
            yield max(found, key=lambda collision: round(collision.depth, 6))


def collisions_at(
    book: Book,
    parts: Mapping[str, FoldedPart],
    assembly: Assembly,
    web: Web,
    opening: int,
    angles_deg: Sequence[float],
) -> Iterator[Collision]:
    """Yield the collisions of the two leaves beside an opening at each of the angles."""
    roots = {key: folded.root for key, folded in parts.items()}
    ends = ends_of(book, roots, opening, (FRONT, roots[FRONT]), (BACK, roots[BACK]))
    hinge = hinge_on(way(web, *ends))
    if hinge is None:
        return
    barred = {hinge.channel}
    front = list(_strokes(assembly, _leaf(parts, ends[0][0]), barred))
    back = list(_strokes(assembly, _leaf(parts, ends[1][0]), barred))
    yield from _swapped(opening, front, back)
    for angle in angles_deg:
        motion, _ = motions(assembly, hinge, angle)
        moved = [_moved(stroke, motion) for stroke in front]
        for one in moved:
            for other in back:
                depth = _crossing(one, other)
                if depth > TOUCHING:
                    yield Collision(opening, angle, one.node, other.node, depth)


def _leaf(parts: Mapping[str, FoldedPart], page: str) -> list[str]:
    """Return the parts of a leaf: a page and what is taped onto it."""
    return [
        key
        for key, folded in parts.items()
        if (key == page or key.startswith(f"{page}-")) and not folded.part.covers
    ]


def _strokes(assembly: Assembly, keys: Sequence[str], barred: set[Node | None]) -> Iterator[Stroke]:
    for key in keys:
        outlines = assembly.bench.parts[key].outlines
        for name, pose in assembly.places.get(key, {}).items():
            if (key, name) not in barred and not is_grafted(name):
                yield from _strokes_of((key, name), pose, outlines[name])


def _strokes_of(node: Node, pose: Pose, outline: Path) -> Iterator[Stroke]:
    """Yield one stroke for a panel seen edge on, else one for each side of its outline."""
    places = [tuple(map(float, pose.at(point))) for point in flattened(outline, CHORD)]
    heights = [place[1] for place in places]
    low, high = min(heights), max(heights)
    spots = [(place[0], place[2]) for place in places]
    is_level = abs(float(pose.normal[2])) > LEVEL
    if abs(float(pose.normal[1])) < 1e-9:
        yield Stroke(node, min(spots), max(spots), low, high, is_level)
        return
    for start, end in zip(spots, [*spots[1:], spots[0]], strict=True):
        yield Stroke(node, start, end, low, high, is_level)


def _moved(stroke: Stroke, motion: Pose) -> Stroke:
    (a, _, b), _, (c, _, d) = motion.rotation
    dx, _, dz = motion.translation
    ends = [
        (float(a * x + b * z + dx), float(c * x + d * z + dz))
        for x, z in (stroke.start, stroke.end)
    ]
    return stroke._replace(start=ends[0], end=ends[1])


def _swapped(opening: int, front: Sequence[Stroke], back: Sequence[Stroke]) -> Iterator[Collision]:
    """Yield lying panels of the front leaf that are, closed, farther back than those behind them."""
    for one in front:
        for other in back:
            if not (one.is_level and other.is_level and _share_heights(one, other)):
                continue
            width = min(one.end[0], other.end[0]) - max(one.start[0], other.start[0])
            depth = other.start[1] - one.start[1]
            if width > TOUCHING and depth > TOUCHING:
                yield Collision(opening, 0.0, one.node, other.node, depth)


def _share_heights(a: Stroke, b: Stroke) -> bool:
    low, high = max(a.low, b.low), min(a.high, b.high)
    return high - low > TOUCHING


def _crossing(a: Stroke, b: Stroke) -> float:
    """Return how far (mm) two strokes reach through each other; 0 where they do not."""
    if max(a.low, b.low) > min(a.high, b.high):
        return 0.0
    for axis in (0, 1):
        if max(a.start[axis], a.end[axis]) < min(b.start[axis], b.end[axis]):
            return 0.0
        if max(b.start[axis], b.end[axis]) < min(a.start[axis], a.end[axis]):
            return 0.0
    return min(_through(a, b), _through(b, a))


def _through(a: Stroke, b: Stroke) -> float:
    """Return how far the ends of *b* lie on both sides of the line of *a*; 0 when on one side."""
    dx, dz = a.end[0] - a.start[0], a.end[1] - a.start[1]
    length = (dx * dx + dz * dz) ** 0.5
    if length < TOUCHING:
        return 0.0
    first, second = (
        (dx * (spot[1] - a.start[1]) - dz * (spot[0] - a.start[0])) / length
        for spot in (b.start, b.end)
    )
    return min(abs(first), abs(second)) if first * second < 0 else 0.0
