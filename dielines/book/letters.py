"""Letters for parts: what is cut alike shares one, what is not does not."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import count
from string import ascii_uppercase

from ..bindings.bound import BoundPart
from ..part import Part


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
    lines = tuple((line.kind, line.angle_deg, line.pieces) for line in part.lines)
    strokes = tuple((stroke.purpose, stroke.path, stroke.angle_deg) for stroke in part.strokes)
    zones = tuple((zone.side, zone.path) for zone in part.zones)
    return (part.outline, part.grain, lines, strokes, zones)
