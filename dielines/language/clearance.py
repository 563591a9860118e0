"""Whether a path lies within a panel: quick where it is clear of the border, exact where it is not."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property

from ..landing import overhang_of
from ..paths import Path, Segment, bounds_of, flattened
from .arrangement import Box, box_of, boxes_meet, in_floats, meeting_points
from .shapes import is_inside_box


@dataclass(frozen=True)
class Border:
    """A closed path that is asked many times what lies inside of it."""

    path: Path

    @cached_property
    def _segments(self) -> Sequence[tuple[Box, Segment]]:
        segments = [in_floats(segment) for segment in self.path.segments()]
        return [(box_of(segment), segment) for segment in segments]

    @cached_property
    def _corners(self) -> Sequence[tuple[float, float]]:
        return flattened(self.path)

    def touches(self, path: Path) -> bool:
        """Return whether *path* meets the border anywhere."""
        for segment in map(in_floats, path.segments()):
            box = box_of(segment)
            for other, piece in self._segments:
                if boxes_meet(box, other) and meeting_points(segment, piece):
                    return True
        return False

    def is_around(self, path: Path) -> bool:
        """Return whether *path* lies inside and touches the border nowhere."""
        x, y = path.vertices[0].point
        return not self.touches(path) and self._encloses(float(x), float(y))

    def _encloses(self, x: float, y: float) -> bool:
        """Return whether a place that is not on the border lies inside (even-odd rule)."""
        inside = False
        x0, y0 = self._corners[-1]
        for x1, y1 in self._corners:
            if (y0 > y) != (y1 > y) and x < x0 + (x1 - x0) * (y - y0) / (y1 - y0):
                inside = not inside
            x0, y0 = x1, y1
        return inside


def lies_within(path: Path, border: Border, holes: Iterable[Path]) -> bool:
    """Return whether *path* leaves *border* nowhere and keeps out of the *holes*; it may touch both."""
    if not is_inside_box(bounds_of([path]), bounds_of([border.path])):
        return False
    near = _near(path, holes)
    if not near and border.is_around(path):
        return True
    return overhang_of(path, border.path, near).is_inside


def lies_clear(path: Path, border: Border, holes: Iterable[Path]) -> bool:
    """Return whether the closed *path* lies inside, with paper all around it, between the *holes*."""
    return border.is_around(path) and all(_are_apart(path, hole) for hole in _near(path, holes))


def _near(path: Path, holes: Iterable[Path]) -> list[Path]:
    box = _box_of_path(path)
    return [hole for hole in holes if boxes_meet(box, _box_of_path(hole))]


def _are_apart(first: Path, second: Path) -> bool:
    rings = Border(first), Border(second)
    if rings[0].touches(second):
        return False
    return not rings[0].is_around(second) and not rings[1].is_around(first)


def _box_of_path(path: Path) -> Box:
    boxes = [box_of(segment) for segment in path.segments()]
    lefts, bottoms, rights, tops = zip(*boxes, strict=True)
    return min(lefts), min(bottoms), max(rights), max(tops)
