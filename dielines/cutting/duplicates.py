"""What would be worked twice, worked once: else it would be cut through, or torn."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import count

from ..drawing import Drawing, Item, Layer
from ..paths import Path, Vertex, reversed_path
from .collinear import doubled, joined, merged, rounded, rows

SAME = 1e-5  #: mm; corners that lie as near are the same
_BEND = 1e-6  # to which bulges are told apart

Key = tuple[tuple[int, int, int], ...]


def without_duplicates(drawing: Drawing) -> Drawing:
    """Return *drawing* with each path once on its layer, wherever it starts and whichever way it runs.

    Straight open lines that lie on one another in part become one line. What is
    left stands where the first of them stood, and bears all their names.
    """
    left = _distinct(drawing.items())
    numbers = count()
    groups = (
        replace(group, items=tuple(i for _ in group.items if (i := left[next(numbers)])))
        for group in drawing.groups
    )
    return replace(drawing, groups=tuple(groups))


def _distinct(items: Sequence[Item]) -> list[Item | None]:
    """Return *items* in their places, with None for what went into another one."""
    left: list[Item | None] = list(items)
    for same in _repeated(items):
        _unite(left, same, items[same[0]].path)
    for layer in Layer:
        for path, members in _lines_in_part_the_same(left, layer):
            _unite(left, members, path)
    return left


def _unite(left: list[Item | None], same: Sequence[int], path: Path) -> None:
    """Put *path* in place of the first of some items, with the names of all."""
    united = [item for number in same if (item := left[number])]
    name = ", ".join(dict.fromkeys(item.name for item in united if item.name))
    for number in same:
        left[number] = None
    left[same[0]] = replace(united[0], path=path, name=name)


def _repeated(items: Sequence[Item]) -> Iterator[list[int]]:
    """Yield the numbers of paths that are the same, where there are several."""
    found: dict[tuple[Layer, Key], list[int]] = {}
    for number, item in enumerate(items):
        found.setdefault((item.layer, key_of(item.path)), []).append(number)
    yield from (numbers for numbers in found.values() if len(numbers) > 1)


def key_of(path: Path) -> Key:
    """Return corners and bulges in rounded numbers, the same for both ways and every start."""
    return min(_run(path), _run(reversed_path(path)))


def _run(path: Path) -> Key:
    corners = tuple(map(_rounded, path.vertices))
    if not path.closed or not corners:
        return corners
    first = corners.index(min(corners))
    return (*corners[first:], *corners[:first])


def _rounded(vertex: Vertex) -> tuple[int, int, int]:
    x, y = rounded(float(vertex.x), SAME), rounded(float(vertex.y), SAME)
    return x, y, rounded(float(vertex.bulge), _BEND)


def _lines_in_part_the_same(
    left: Sequence[Item | None], layer: Layer
) -> Iterator[tuple[Path, tuple[int, ...]]]:
    """Yield lines that cover several straight open ones, with the numbers of these."""
    edges = [
        (number, item.path.points[0], item.path.points[1])
        for number, item in enumerate(left)
        if item is not None and item.layer is layer and _is_straight_line(item.path)
    ]
    for row in rows(edges):
        for members in joined(doubled(row)):
            among = [edge for edge in row if edge.owner in members]
            yield from ((path, members) for path, _ in merged(among))


def _is_straight_line(path: Path) -> bool:
    if path.closed or len(path.vertices) != 2 or path.vertices[0].bulge:
        return False
    return path.vertices[0].point != path.vertices[1].point
