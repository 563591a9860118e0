"""Cuts found again from where boxes lie, and put in the order of a person."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from ..order import Order, Pattern, Placed, Way
from .blocks import CROSS, Block, block_of, box_block, joined, pattern_of


def tidied(pattern: Pattern, order: Order, stages: int | None) -> Pattern | None:
    """Return the same boxes, moved together, with their cuts; long rows first, equal ones together.

    Of use where boxes were taken from a pattern, or where it has no cuts yet; None
    where no cuts from edge to edge part the boxes, or not in so many stages.
    """
    block = (
        block_by_places(order, pattern.placed)
        if pattern.cuts is None
        else block_of(pattern.cuts, order)
    )
    if block is None and pattern.placed:
        return None
    if block is not None and stages is not None and block.stages > stages:
        return None
    return pattern_of(block, order, pattern.bed, stages)


def block_by_places(order: Order, placed: Sequence[Placed]) -> Block | None:
    """Return the rows and piles in which boxes lie, in fewest stages; None where no cuts part them.

    All cuts that there are in one way are made at once. What lies between them can be
    parted in the other way only, so that there is a choice at the very first cut alone.
    """
    found = [_parted_first(order, placed, way) for way in Way]
    blocks = [block for block in found if block is not None]
    return min(blocks, key=lambda block: block.stages, default=None)


def _parted_first(order: Order, placed: Sequence[Placed], way: Way) -> Block | None:
    """Return the block whose first cuts run one way; None where no cut does."""
    if len(placed) == 1:
        return box_block(placed[0].kind, order.boxes[placed[0].kind], placed[0].quarters)
    groups = list(_parted(order, placed, way))
    if len(groups) < 2:
        return None
    found = [_parted_first(order, group, CROSS[way]) for group in groups]
    blocks = [block for block in found if block is not None]
    return joined(way, blocks) if len(blocks) == len(found) else None


def _parted(order: Order, placed: Sequence[Placed], way: Way) -> Iterator[list[Placed]]:
    """Yield the boxes between one cut from edge to edge and the next."""
    spans = sorted((*_span(order, box, way), index) for index, box in enumerate(placed))
    group: list[Placed] = []
    reach = 0
    for start, end, index in spans:
        if group and start >= reach:
            yield group
            group = []
        group.append(placed[index])
        reach = max(reach, end)
    if group:
        yield group


def _span(order: Order, box: Placed, way: Way) -> tuple[int, int]:
    width, height = order.boxes[box.kind].lying(box.quarters)
    return (box.x, box.x + width) if way is Way.UPRIGHT else (box.y, box.y + height)
