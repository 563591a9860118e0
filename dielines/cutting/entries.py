"""Where a path may be entered, and the path that begins there."""

from __future__ import annotations

from typing import NamedTuple

from ..paths import Path, Point, reversed_path
from .travel import end_of, start_of

MOST_STARTS = 8  #: of one closed path; with more, spread evenly over its corners

#: A place in whole micrometres, so that sums of distances are the same on every machine.
Place = tuple[int, int]


class Way(NamedTuple):
    """One way to run a path: where the tool is set down, and where it is lifted."""

    into: Place
    out: Place


def place_of(point: Point) -> Place:
    """Return *point* (mm) in micrometres.

    >>> place_of(Point(1.5874, 2))
    (1587, 2000)
    """
    return round(point.x * 1000), round(point.y * 1000)


def ways_of(path: Path) -> tuple[Way, ...]:
    """Return the ways to run *path*: an open one from either end, a closed one from its corners."""
    if path.closed:
        return tuple(Way(place, place) for place in map(place_of, _starts(path)))
    start, end = place_of(start_of(path)), place_of(end_of(path))
    return (Way(start, end), Way(end, start))


def run_from(path: Path, way: int) -> Path:
    """Return *path* run in the way of that number; what is cut stays the same."""
    if not path.closed:
        return reversed_path(path) if way else path
    return started_at(path, _numbers(len(path.vertices))[way])


def started_at(path: Path, number: int) -> Path:
    """Return the closed *path* with the vertex of that number first."""
    return Path((*path.vertices[number:], *path.vertices[:number]), closed=True)


def _starts(path: Path) -> list[Point]:
    return [path.vertices[number].point for number in _numbers(len(path.vertices))]


def _numbers(count: int) -> list[int]:
    """Return which of so many vertices are starts."""
    if count <= MOST_STARTS:
        return list(range(count))
    return [i * count // MOST_STARTS for i in range(MOST_STARTS)]
