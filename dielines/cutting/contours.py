"""Closed cuts: which are outlines and which openings, where their corners are, where they start."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence

from ..dashes import stretch
from ..drawing import Item, Layer
from ..paths import Path, Segment, distance, length_of, segment_length
from .nesting import Contour, holders

#: Sine of the angle up to which a path runs on smoothly; from memory: what a tool
#: that is dragged along does without a swing.
SMOOTH = math.sin(math.radians(5))


def outlines_and_openings(items: Sequence[Item]) -> dict[int, bool]:
    """Return the index of each closed path on CUT among *items*, and whether it is an outline.

    A contour within an even number of others is an outline, else an opening.
    """
    closed = [i for i, item in enumerate(items) if is_closed_cut(item)]
    held_by = holders([Contour(items[i].path) for i in closed])
    return {i: len(those) % 2 == 0 for i, those in zip(closed, held_by, strict=True)}


def is_closed_cut(item: Item) -> bool:
    """Return whether *item* is a closed path on CUT."""
    return item.layer is Layer.CUT and item.path.closed and bool(item.path.vertices)


def corners_of(path: Path) -> list[float]:
    """Return how far along a closed *path* its corners lie, mm; smooth joints are none.

    >>> from dielines.paths import rectangle
    >>> corners_of(rectangle(0, 0, 4, 3))
    [0.0, 4.0, 7.0, 11.0]
    """
    segments = [piece for piece in path.segments() if distance(piece.start, piece.end) > 0]
    passed = itertools.accumulate(map(segment_length, segments), initial=0.0)
    return [
        float(along)
        for i, along in zip(range(len(segments)), passed, strict=False)
        if _is_corner(segments[i - 1], segments[i])
    ]


def _is_corner(before: Segment, after: Segment) -> bool:
    turn = (_way(after) - _half_turn(after)) - (_way(before) + _half_turn(before))
    return abs(math.sin(turn)) > SMOOTH or math.cos(turn) < 0


def _way(piece: Segment) -> float:
    """Return the direction of the chord, radians."""
    return math.atan2(float(piece.end.y - piece.start.y), float(piece.end.x - piece.start.x))


def _half_turn(piece: Segment) -> float:
    """Return by how much an arc turns on from its chord to its end, radians."""
    return 2 * math.atan(float(piece.bulge))


def started_along(path: Path, along: float) -> Path:
    """Return the closed *path* with a vertex *along* mm from its start as the first one.

    >>> from dielines.paths import rectangle
    >>> started_along(rectangle(0, 0, 4, 3), 1).points[:2]
    (Point(x=1.0, y=0.0), Point(x=4, y=0))
    """
    total = length_of(path)
    if not 0 < along < total:
        return path
    first, second = stretch(path, along, total), stretch(path, 0.0, along)
    return Path((*first.vertices[:-1], *second.vertices[:-1]), closed=True)
