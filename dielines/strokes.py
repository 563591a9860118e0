"""Lines that continue one another, drawn in one stroke: the tool is set down once.

A score that crosses several panels comes in one piece for each pair of panels
that it parts.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace

from .drawing import Item, Layer
from .paths import Number, Path, Point, line

SAME_PLACE = 7  #: decimals of a mm to which two ends are the same
STRAIGHT = 1e-9  #: sine of the angle up to which two lines are one

_End = tuple[Layer, float, float]


def in_one_stroke(items: Iterable[Item]) -> list[Item]:
    """Return *items* with straight lines of one layer joined where they continue one another.

    A joined line stands where its first piece stood and bears all names.

    >>> head, tail = (line((0, y), (0, y + 5)) for y in (0, 5))
    >>> joined = in_one_stroke([Item(Layer.CUT, tail, "a / b"), Item(Layer.CUT, head, "c / b")])
    >>> [(item.path.points[1].y, item.name) for item in joined]
    [(10, 'a, c / b')]
    """
    strokes = _Strokes()
    for item in items:
        strokes.take(item)
    return [item for item in strokes.items if item is not None]


@dataclass
class _Strokes:
    """Strokes so far, and which straight one ends where; None where one went into another."""

    items: list[Item | None] = field(default_factory=list)
    ends: dict[_End, list[int]] = field(default_factory=dict)

    def take(self, item: Item) -> None:
        """Add *item*, or join it to the strokes that it continues."""
        place = len(self.items)
        self.items.append(item)
        if not _is_straight(item.path):
            return
        joined = item
        for end in item.path.points:
            partner = self._partner(joined, end)
            if partner is not None:
                other, joined = partner
                place, gone = sorted((place, other))
                self.items[gone] = None
        self.items[place] = joined
        for end in joined.path.points:
            self.ends.setdefault(_end_of(item.layer, end), []).append(place)

    def _partner(self, item: Item, end: Point) -> tuple[int, Item] | None:
        """Return the stroke that *item* continues at *end*, by its place, and both joined."""
        for place in self.ends.get(_end_of(item.layer, end), []):
            other = self.items[place]
            if other is not None and _ends_at(other, _end_of(item.layer, end)):
                joined = _joined(other, item, end)
                if joined is not None:
                    return place, joined
        return None


def _is_straight(path: Path) -> bool:
    return len(path.vertices) == 2 and not path.closed and not path.vertices[0].bulge


def _end_of(layer: Layer, point: Point) -> _End:
    """Return a key that is the same for ends in one place."""
    x, y = (round(float(value), SAME_PLACE) + 0.0 for value in point)
    return layer, x, y


def _ends_at(item: Item, end: _End) -> bool:
    return any(_end_of(item.layer, point) == end for point in item.path.points)


def _joined(first: Item, second: Item, end: Point) -> Item | None:
    """Return one straight line from *first* to *second*, which meet at *end*; None round a corner."""
    start = _other_end(first.path, end)
    stop = _other_end(second.path, end)
    before = (end.x - start.x, end.y - start.y)
    after = (stop.x - end.x, stop.y - end.y)
    if not _is_same_way(before, after):
        return None
    low, high = sorted((start, stop))
    return replace(first, path=line(low, high), name=joined_name([first.name, second.name]))


def _other_end(path: Path, end: Point) -> Point:
    first, last = path.points
    return last if math.dist(first, end) <= math.dist(last, end) else first


def _is_same_way(a: tuple[Number, Number], b: tuple[Number, Number]) -> bool:
    cross = a[0] * b[1] - a[1] * b[0]
    along = a[0] * b[0] + a[1] * b[1]
    if isinstance(cross, float):
        return along > 0 and abs(cross) <= STRAIGHT * math.hypot(*a) * math.hypot(*b)
    return along > 0 and cross == 0


def joined_name(names: Sequence[str]) -> str:
    """Return one name for lines between panels: what they have in common is said once.

    >>> joined_name(["head / front_hold", "head / front_joint, spine"])
    'head / front_hold, front_joint, spine'
    """
    pieces = [piece for name in dict.fromkeys(names) for piece in [name.partition(" / ")]]
    if not all(middle for _, middle, _ in pieces):
        pieces = [piece for name in dict.fromkeys(names) for piece in [name.partition(" | ")]]
    if not all(middle for _, middle, _ in pieces):
        return ", ".join(filter(None, dict.fromkeys(names)))
    firsts, seconds = (_listed(piece[side] for piece in pieces) for side in (0, 2))
    return f"{firsts}{pieces[0][1]}{seconds}"


def _listed(texts: Iterable[str]) -> str:
    return ", ".join(dict.fromkeys(word for text in texts for word in text.split(", ")))
