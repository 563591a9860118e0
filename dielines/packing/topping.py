"""Small boxes put into what a sheet has left, around the boxes that lie there."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from .lying import Lying, ways_to_lie
from .order import Order, Pattern, Placed, Work

#: left, lower, right and upper edge
_Edges = tuple[int, int, int, int]
_TRY = 2  #: work of looking whether a box meets another


def topped(order: Order, pattern: Pattern, limits: Sequence[int], work: Work) -> Pattern:
    """Return *pattern* with more boxes, the largest first, up to *limits* of each kind.

    What lies there stays where it is.
    """
    ways = ways_to_lie(order)[pattern.bed]
    counts = list(pattern.counts(len(limits)))
    there = [_edges(order, box) for box in pattern.placed]
    placed = list(pattern.placed)
    for kind in sorted(range(len(limits)), key=lambda kind: (-order.boxes[kind].area, kind)):
        while counts[kind] < limits[kind] and not work.is_over:
            found = _room(order, pattern.bed, there, ways[kind], work)
            if found is None:
                break
            box = Placed(kind, *found)
            counts[kind] += 1
            there.append(_edges(order, box))
            placed.append(box)
    return replace(pattern, placed=tuple(placed))


def _edges(order: Order, box: Placed) -> _Edges:
    width, height = order.boxes[box.kind].lying(box.quarters)
    return (box.x, box.y, box.x + width, box.y + height)


def _room(
    order: Order, number: int, there: Sequence[_Edges], ways: Sequence[Lying], work: Work
) -> tuple[int, int, int] | None:
    """Return the lowest place, then the leftmost, against the edges of what lies there."""
    bed = order.beds[number]
    columns = sorted({0, *(edges[2] for edges in there)})
    for y in sorted({0, *(edges[3] for edges in there)}):
        for x in columns:
            for width, height, quarters in ways:
                right, top = x + width, y + height
                if right > bed.width or top > bed.height:
                    continue
                work.spend(_TRY * len(there))
                if not any(a < right and x < c and b < top and y < d for a, b, c, d in there):
                    return x, y, quarters
    return None
