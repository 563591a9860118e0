"""Where folds meet inside the paper, and whether paper can be folded flat there.

Theorems on a single vertex of flat-folded paper: the sectors around it, taken
alternately, add up to 180 degrees each (Kawasaki and Justin), and of its folds two
more are valleys than mountains, or two fewer (Maekawa and Justin). Both are
necessary; they say nothing of how several vertices go together.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from ..part import FoldKey, Line, LineKind, Part
from ..paths import Number, Path, Point, flattened, nearest_between

NEAR = 1e-4  #: mm; points closer than this are one
ANGLE_NEAR = 1e-6  #: degrees
HALF_TURN = 180

#: The stock that is wrapped round boards: where its turn-ins meet at a corner it is nipped in.
NIPPED = "covering"

Flat = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Ray:
    """A fold as it leaves a vertex: its direction (degrees, counter-clockwise from x) and angle."""

    direction_deg: float
    key: FoldKey
    angle_deg: Number


@dataclass(frozen=True, slots=True)
class Vertex:
    """A point strictly inside the paper where folds meet or end; rays counter-clockwise."""

    point: Point
    rays: tuple[Ray, ...]

    @property
    def is_flat(self) -> bool:
        """Whether every fold here is a half turn, so that the theorems apply."""
        return all(abs(ray.angle_deg) == HALF_TURN for ray in self.rays)

    @property
    def sectors_deg(self) -> tuple[float, ...]:
        """The angles between one fold and the next, all round; they add up to 360."""
        directions = [ray.direction_deg for ray in self.rays]
        return tuple(b - a for a, b in pairwise([*directions, directions[0] + 360]))

    @property
    def alternating_deg(self) -> float:
        """The sum of every other sector less that of the others; 0 where paper can fold flat."""
        return alternating_sum(self.sectors_deg)

    @property
    def surplus(self) -> int:
        """By how many the valleys outnumber the mountains; 2 or -2 where paper can fold flat."""
        return sum(1 if ray.angle_deg > 0 else -1 for ray in self.rays)

    @property
    def has_even_folds(self) -> bool:
        """Whether the number of folds is even, as it must be."""
        return len(self.rays) % 2 == 0

    @property
    def can_fold_flat(self) -> bool:
        """Whether both theorems hold here."""
        is_even = self.has_even_folds
        return is_even and abs(self.alternating_deg) <= ANGLE_NEAR and abs(self.surplus) == 2


def alternating_sum(sectors_deg: Sequence[float]) -> float:
    """Return the first sector less the second plus the third and so on.

    >>> alternating_sum([90, 45, 22.5, 22.5, 45, 90, 22.5, 22.5])
    0.0
    >>> alternating_sum([100, 80, 100, 80])
    40
    """
    return sum(sectors_deg[::2]) - sum(sectors_deg[1::2])


def inner_vertices(part: Part) -> list[Vertex]:
    """Return the points inside the paper of *part* where folds meet, in reading order.

    Folds at rest (0 degrees), curved folds and points on a cut do not count. A fold
    that runs straight on, by itself, is no vertex.
    """
    pieces = [
        (line.key, line.angle_deg, *_ends(piece)) for line in _folds(part) for piece in line.pieces
    ]
    found = []
    for point in _distinct(end for *_, start, stop in pieces for end in (start, stop)):
        rays = sorted(
            (
                Ray(direction, key, angle)
                for key, angle, start, stop in pieces
                for direction in _directions(point, start, stop)
            ),
            key=lambda ray: (ray.direction_deg, str(ray.key)),
        )
        if rays and not _is_plain(rays) and not _is_on_cut(point, part):
            found.append(Vertex(Point(*point), tuple(rays)))
    return found


def _folds(part: Part) -> Iterator[Line]:
    return (line for line in part.folds if line.angle_deg and line.is_straight)


def _ends(piece: Path) -> tuple[Flat, Flat]:
    first, last = piece.vertices[0].point, piece.vertices[-1].point
    return (float(first.x), float(first.y)), (float(last.x), float(last.y))


def _distinct(points: Iterable[Flat]) -> list[Flat]:
    """Return *points* without those that are near another, sorted."""
    kept: list[Flat] = []
    for point in sorted(points):
        if not any(math.dist(point, other) <= NEAR for other in kept):
            kept.append(point)
    return kept


def _directions(point: Flat, start: Flat, stop: Flat) -> Iterator[float]:
    """Yield in which directions a piece of a fold leaves *point*: none, one, or both."""
    if math.dist(start, stop) <= NEAR or not _is_on(point, start, stop):
        return
    for end in (start, stop):
        if math.dist(point, end) > NEAR:
            yield math.degrees(math.atan2(end[1] - point[1], end[0] - point[0])) % 360


def _is_plain(rays: Sequence[Ray]) -> bool:
    """Return whether these are one fold that runs straight on at one angle."""
    if len(rays) != 2:
        return False
    is_straight = abs(rays[1].direction_deg - rays[0].direction_deg - 180) <= ANGLE_NEAR
    return is_straight and rays[0].angle_deg == rays[1].angle_deg


def _is_on_cut(point: Flat, part: Part) -> bool:
    slits = [line for line in part.lines if line.kind is LineKind.SLIT]
    paths = [*part.outline, *(piece for line in slits for piece in line.pieces)]
    return any(_touches(point, path) for path in paths)


def _touches(point: Flat, path: Path) -> bool:
    corners = flattened(path, NEAR)
    closed = [*corners, corners[0]] if path.closed else corners
    return any(a != b and _is_on(point, a, b) for a, b in pairwise(closed))


def _is_on(point: Flat, start: Flat, end: Flat) -> bool:
    return math.dist(point, nearest_between(start, end, point)) <= NEAR
