"""Short stretches of an outline that are left uncut and hold the part in its sheet.

A part that comes loose before its sheet is done may slip, tilt or be blown about.
Bridges keep it where it is until a person presses it out; the stubs are trimmed.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from itertools import count

from ..dashes import stretch
from ..drawing import Drawing, Group, Item
from ..paths import Path, length_of, segment_length
from .contours import corners_of, outlines_and_openings, started_along

FEWEST = 2  #: of one outline: a part that hangs on one bridge still tilts (common practice)
CLEAR = 1.0  #: from a bridge to the nearest corner, at least, as a share of its width

Stretches = Sequence[tuple[float, float]]


def with_bridges(drawing: Drawing, width: float, every: float) -> Drawing:
    """Return *drawing* with gaps of *width* in its outlines, about one in *every*, both mm.

    Openings are cut out whole: what falls out of them is waste. An outline with
    gaps becomes open paths, one after the other. Allow for what the cut takes
    away at both ends: *width* is that of the gap in the path.
    """
    if not width:
        return drawing
    outlines = outlines_and_openings(drawing.items())
    numbers = count()
    groups = (
        _group_with_bridges(
            group, [outlines.get(next(numbers), False) for _ in group.items], width, every
        )
        for group in drawing.groups
    )
    return replace(drawing, groups=tuple(groups))


def _group_with_bridges(group: Group, held: Iterable[bool], width: float, every: float) -> Group:
    items = (
        piece
        for item, is_held in zip(group.items, held, strict=True)
        for piece in (_pieces(item, width, every) if is_held else (item,))
    )
    return replace(group, items=tuple(items))


def _pieces(item: Item, width: float, every: float) -> Iterator[Item]:
    for path in bridged(item.path, width, every):
        yield replace(item, path=path)


def bridged(path: Path, width: float, every: float) -> tuple[Path, ...]:
    """Return what is cut of a closed *path* between its bridges; the path itself where none fits.

    >>> from dielines.paths import rectangle
    >>> [round(length_of(piece), 6) for piece in bridged(rectangle(0, 0, 40, 30), 1, 100)]
    [69.0, 69.0]
    """
    middles = bridges_of(path, width, every)
    if not middles:
        return (path,)
    total = length_of(path)
    turned = started_along(path, middles[0] + width / 2)
    starts = [middle - middles[0] for middle in middles]
    ends = [middle - middles[0] - width for middle in [*middles[1:], middles[0] + total]]
    return tuple(stretch(turned, start, end) for start, end in zip(starts, ends, strict=True))


def bridges_of(path: Path, width: float, every: float) -> list[float]:
    """Return how far along a closed *path* the middles of its bridges lie, mm.

    They are spread evenly and then moved off the corners; where there is no room
    for two of them away from all corners, there is none.
    """
    total = length_of(path)
    number = max(FEWEST, round(total / every))
    anywhere = list(_free(corners_of(path), total, width))
    straight = list(_straight(path, width * (CLEAR + 0.5)))
    wanted = [total * (i + 0.5) / number for i in range(number)]
    near = total / number / 3
    places = {_moved(place, straight, anywhere, near) for place in wanted} if anywhere else set()
    found = _apart(sorted(places), total, 2 * width)
    return found if len(found) >= FEWEST else []


def _moved(place: float, straight: Stretches, anywhere: Stretches, near: float) -> float:
    """Return where a bridge comes: on a straight edge where one is near, else off the corners.

    An edge that is round, a notch for the thumb above all, is touched and seen.
    """
    beside = _nearest(place, straight) if straight else math.inf
    return beside if abs(beside - place) <= near else _nearest(place, anywhere)


def _apart(places: Sequence[float], total: float, least: float) -> list[float]:
    """Return *places* of a round trip without those nearer than *least* to the one before."""
    found: list[float] = []
    for place in places:
        if not found or place - found[-1] >= least:
            found.append(place)
    while len(found) > 1 and found[0] + total - found[-1] < least:
        found.pop()
    return found


def _straight(path: Path, keep: float) -> Iterator[tuple[float, float]]:
    """Yield the stretches of straight edges that lie *keep* mm off both ends."""
    passed = 0.0
    for segment in path.segments():
        length = segment_length(segment)
        if not segment.bulge and length >= 2 * keep:
            yield (passed + keep, passed + length - keep)
        passed += length


def _free(corners: list[float], total: float, width: float) -> Iterator[tuple[float, float]]:
    """Yield the stretches, from and to, on which the middle of a bridge keeps off the corners."""
    if not corners:
        yield (width / 2, total - width / 2)
        return
    keep = width * (CLEAR + 0.5)
    for start, end in zip(corners, [*corners[1:], corners[0] + total], strict=True):
        if end - start >= 2 * keep:
            yield from _within(start + keep, end - keep, total)


def _within(low: float, high: float, total: float) -> Iterator[tuple[float, float]]:
    """Yield a stretch of a round trip; one that runs over the start in two pieces."""
    if high <= total:
        yield (low, high)
    elif low >= total:
        yield (low - total, high - total)
    else:
        yield from ((low, total), (0.0, high - total))


def _nearest(place: float, free: Stretches) -> float:
    moved = (min(max(place, low), high) for low, high in free)
    return min(moved, key=lambda candidate: (abs(candidate - place), candidate))
