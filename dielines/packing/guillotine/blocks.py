"""Boxes that stand in a row or in a pile, and rows of piles: what edge-to-edge cuts can make.

Every way to cut a sheet from edge to edge is such a nest of rows and piles. The cuts
follow from it, and so does the number of stages: how often the way of the cuts changes.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import groupby

from ..order import Box, Cut, Leaf, Order, Pattern, Placed, Way

CROSS = {Way.UPRIGHT: Way.LEVEL, Way.LEVEL: Way.UPRIGHT}


@dataclass(frozen=True, slots=True)
class Block:
    """A box (*kind*), or *parts* next to one another, parted by cuts that run one *way*.

    Upright cuts part a row, level cuts a pile. *stages*: 0 for a box.
    """

    width: int
    height: int
    kind: int | None = None
    quarters: int = 0
    way: Way | None = None
    parts: tuple[Block, ...] = ()
    stages: int = 0


def box_block(kind: int, box: Box, quarters: int) -> Block:
    """Return one box, turned by so many quarters."""
    return Block(*box.lying(quarters), kind, quarters)


def joined(way: Way, blocks: Iterable[Block]) -> Block:
    """Return blocks next to one another, in one row or pile; the longest first, equal ones together.

    Rows in a row become one row, so that the ways take turns.
    """
    parts = [part for block in blocks for part in (block.parts if block.way is way else (block,))]
    if len(parts) == 1:
        return parts[0]
    parts.sort(key=lambda part: (-_along(way, part), -_along(CROSS[way], part), _names(part)))
    along = sum(_along(way, part) for part in parts)
    across = max(_along(CROSS[way], part) for part in parts)
    size = (along, across) if way is Way.UPRIGHT else (across, along)
    return Block(*size, None, 0, way, tuple(parts), 1 + max(part.stages for part in parts))


def _along(way: Way, block: Block) -> int:
    return block.width if way is Way.UPRIGHT else block.height


def _names(block: Block) -> tuple[tuple[int, int], ...]:
    if block.kind is not None:
        return ((block.kind, block.quarters),)
    return tuple(name for part in block.parts for name in _names(part))


def far_row(cuts: Cut | Leaf) -> tuple[list[Cut], Leaf]:
    """Return the cuts that follow one another on the far pieces, and the last piece.

    Rows may be long: they are walked, not nested.
    """
    row: list[Cut] = []
    while isinstance(cuts, Cut):
        row.append(cuts)
        cuts = cuts.far
    return row, cuts


def block_of(cuts: Cut | Leaf, order: Order) -> Block | None:
    """Return the boxes of a cut tree as a block; None where it holds offcuts only."""
    row, last = far_row(cuts)
    found = (
        None if last.kind is None else box_block(last.kind, order.boxes[last.kind], last.quarters)
    )
    for way, same in groupby(reversed(row), key=lambda cut: cut.way):
        nears = [block_of(cut.near, order) for cut in same]
        blocks = [block for block in [*nears, found] if block is not None]
        found = joined(way, blocks) if blocks else None
    return found


def cuts_of(block: Block | None, width: int, height: int, stages: int | None) -> Cut | Leaf:
    """Return the cuts that take a block out of the lower left corner of a piece.

    What is left at the end of a row is cut off as the last of the row. What is left
    beside the whole row is cut off first, in one piece, where *stages* allow it;
    otherwise it stays on the boxes, to be trimmed.
    """
    if block is None:
        return Leaf(None)
    if block.way is None or (stages is not None and block.stages >= stages):
        return _cut(block, width, height)
    way = CROSS[block.way]
    if _along(way, block) == (width if way is Way.UPRIGHT else height):
        return _cut(block, width, height)
    size = (block.width, height) if way is Way.UPRIGHT else (width, block.height)
    return Cut(way, _along(way, block), _cut(block, *size), Leaf(None))


def _cut(block: Block, width: int, height: int) -> Cut | Leaf:
    """Return the cuts of a block whose piece may be larger than it."""
    if block.way is None:
        return Leaf(block.kind, block.quarters)
    way = block.way
    room = (width if way is Way.UPRIGHT else height) - _along(way, block)
    across = height if way is Way.UPRIGHT else width
    rest: Cut | Leaf | None = Leaf(None) if room else None
    for part in reversed(block.parts):
        along = _along(way, part)
        inner = _cut(part, *((along, across) if way is Way.UPRIGHT else (across, along)))
        rest = inner if rest is None else Cut(way, along, inner, rest)
    assert rest is not None
    return rest


def placed_by(cuts: Cut | Leaf, x: int = 0, y: int = 0) -> tuple[Placed, ...]:
    """Return where the boxes of a cut tree lie, its piece having its corner at (x, y)."""
    row, last = far_row(cuts)
    placed: list[Placed] = []
    for cut in row:
        placed += placed_by(cut.near, x, y)
        x, y = (x + cut.at, y) if cut.way is Way.UPRIGHT else (x, y + cut.at)
    if last.kind is not None:
        placed.append(Placed(last.kind, x, y, last.quarters))
    return tuple(placed)


def pattern_of(block: Block | None, order: Order, bed: int, stages: int | None) -> Pattern:
    """Return the sheet that a block is cut from."""
    sheet = order.beds[bed]
    cuts = cuts_of(block, sheet.width, sheet.height, stages)
    return Pattern(bed, placed_by(cuts), cuts)
