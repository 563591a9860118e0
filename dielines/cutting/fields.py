"""Very many paths in fields, each of them worked as a whole before the next."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from .strands import Strand, ways_along

MOST_POINTS = 1_000  #: where paths may be entered, in one field: the work grows with its square


def fields(strands: Sequence[Strand]) -> Iterator[list[Strand]]:
    """Yield *strands* in fields with at most about MOST_POINTS places to enter; few are one field.

    The fields lie in strips across the sheet, worked to and fro.
    """
    points = sum(len(ways_along(strand)) for strand in strands)
    count = math.ceil(points / MOST_POINTS)
    row = strands if count < 2 else _to_and_fro(strands, math.ceil(math.sqrt(count)))
    share = math.ceil(len(strands) / max(count, 1))
    for first in range(0, len(strands), share or 1):
        yield list(row[first : first + share])


def _to_and_fro(strands: Sequence[Strand], strips: int) -> list[Strand]:
    """Return *strands* in so many strips from below, run from the left and from the right in turn."""
    places = [ways_along(strand)[0].into for strand in strands]
    upward = sorted(range(len(strands)), key=lambda i: (places[i][1], places[i][0], i))
    height = math.ceil(len(strands) / strips)
    found: list[int] = []
    for number, first in enumerate(range(0, len(strands), height)):
        strip = sorted(upward[first : first + height], key=lambda i: (places[i][0], i))
        found += strip[::-1] if number % 2 else strip
    return [strands[i] for i in found]
