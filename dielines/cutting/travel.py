"""How far a tool moves lifted: from the end of each path to the start of the next."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable

from ..drawing import Drawing
from ..paths import Path, Point


def travel(drawing: Drawing) -> float:
    """Return how far a tool moves lifted between the paths of *drawing*, in their order, mm.

    The way from where it rests and back is left out: where that is, no drawing tells.

    >>> from dielines.drawing import Group, Item, Layer
    >>> from dielines.paths import line
    >>> rows = [Item(Layer.CUT, line((0, y), (70, y))) for y in (0, 3, 6)]
    >>> travel(Drawing(100, 100, (Group("rows", "", tuple(rows)),))) > 140
    True
    """
    return travel_between(item.path for item in drawing.items())


def travel_between(paths: Iterable[Path]) -> float:
    """Return how far a tool moves lifted between *paths*, in their order, mm."""
    drawn = (path for path in paths if path.vertices)
    return sum(way_between(a, b) for a, b in itertools.pairwise(drawn))


def start_of(path: Path) -> Point:
    """Return where the tool is set down."""
    return path.vertices[0].point


def end_of(path: Path) -> Point:
    """Return where the tool is lifted: a closed path ends where it starts."""
    return path.vertices[0 if path.closed else -1].point


def way_between(first: Path, second: Path) -> float:
    """Return how far it is from the end of one path to the start of the other, mm."""
    a, b = end_of(first), start_of(second)
    return math.hypot(a.x - b.x, a.y - b.y)
