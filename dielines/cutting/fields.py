"""Very many paths in fields, each of them worked as a whole before the next."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from ..drawing import Item
from .entries import ways_of
from .travel import start_of

MOST_POINTS = 1_000  #: where paths may be entered, in one field: the work grows with its square


def fields(items: Sequence[Item]) -> Iterator[list[Item]]:
    """Yield *items* in fields with at most about MOST_POINTS places to enter; few are one field.

    The fields lie in strips across the sheet, worked to and fro.
    """
    points = sum(len(ways_of(item.path)) for item in items)
    count = math.ceil(points / MOST_POINTS)
    row = items if count < 2 else _to_and_fro(items, math.ceil(math.sqrt(count)))
    share = math.ceil(len(items) / max(count, 1))
    for first in range(0, len(items), share or 1):
        yield list(row[first : first + share])


def _to_and_fro(items: Sequence[Item], strips: int) -> list[Item]:
    """Return *items* in so many strips from below, run from the left and from the right in turn."""
    places = [start_of(item.path) for item in items]
    upward = sorted(range(len(items)), key=lambda i: (places[i].y, places[i].x, i))
    height = math.ceil(len(items) / strips)
    found: list[int] = []
    for number, first in enumerate(range(0, len(items), height)):
        strip = sorted(upward[first : first + height], key=lambda i: (places[i].x, i))
        found += strip[::-1] if number % 2 else strip
    return [items[i] for i in found]
