"""Letters for parts: what is cut alike shares one, what is not does not."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import count
from string import ascii_uppercase

from ..bindings.bound import BoundPart
from ..part import Part
from ..paths import Number, Path, Vertex, reversed_path


def lettered(parts: Sequence[BoundPart]) -> list[str]:
    """Return the letter of each part, in order of first appearance: A to Z, AA, AB, ..."""
    letters: dict[tuple[object, ...], str] = {}
    names = letter_names()
    found = []
    for entry in parts:
        key = (entry.role, *shape_key(entry.part))
        if key not in letters:
            letters[key] = next(names)
        found.append(letters[key])
    return found


def letter_names() -> Iterator[str]:
    """Yield A to Z, then AA, AB and so on."""
    for size in count(1):
        yield from _words(size)


def _words(size: int) -> Iterator[str]:
    if size == 0:
        yield ""
        return
    for head in _words(size - 1):
        for letter in ascii_uppercase:
            yield head + letter


def shape_key(part: Part) -> tuple[object, ...]:
    """Return what is cut, scored, taped and marked on a part: equal for parts cut alike."""
    return (
        part.grain,
        _set(canonical(ring) for ring in part.outline),
        _set((line.kind, line.angle_deg, canonical(p)) for line in part.lines for p in line.pieces),
        _set((stroke.purpose, stroke.angle_deg, canonical(stroke.path)) for stroke in part.strokes),
        _set((zone.side, canonical(zone.path)) for zone in part.zones),
    )


def _set(entries: Iterable[object]) -> frozenset[object]:
    return frozenset(entries)


def canonical(path: Path) -> Path:
    """Return a path that is the same for all ways of running along the same line.

    Coordinates go to a thousandth of a micrometre, so that what was calculated
    in two ways is still the same.
    """
    vertices = tuple(
        Vertex(*(round(float(v), 6) + 0.0 for v in (c.x, c.y, c.bulge))) for c in path.vertices
    )
    rounded = Path(vertices, path.closed)
    ways = (rounded, reversed_path(rounded))
    return min((_from_least(way) for way in ways), key=_order)


def _from_least(path: Path) -> Path:
    if not path.closed:
        return path
    first = min(range(len(path.vertices)), key=lambda i: (path.vertices[i].x, path.vertices[i].y))
    return Path((*path.vertices[first:], *path.vertices[:first]))


def _order(path: Path) -> tuple[tuple[Number, Number, Number], ...]:
    return tuple((vertex.x, vertex.y, vertex.bulge) for vertex in path.vertices)
