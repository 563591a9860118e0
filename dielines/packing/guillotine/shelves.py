"""Fast fillers: rows of piles of boxes, each place given to the box that fits it best."""

from __future__ import annotations

from collections.abc import Sequence

from ..order import Filled, Filler, Order, Way, Work
from .blocks import block_of, cuts_of, placed_by
from .filling import Cutting, Lying, Manner, Piece, fill, lying, whole


def by_rank(box: Lying, piece: Piece) -> int:
    """Let the first box of the list go first."""
    return 0


def by_area(box: Lying, piece: Piece) -> int:
    """Prefer what fills most of the piece."""
    return box.width * box.height


def by_match(box: Lying, piece: Piece) -> int:
    """Prefer what is just as high as a row or as wide as a pile, then what fills its piece."""
    is_row = piece.way is Way.UPRIGHT
    across, along = (box.height, box.width) if is_row else (box.width, box.height)
    size, room = (piece.height, piece.width) if is_row else (piece.width, piece.height)
    full = piece.width * piece.height
    return (2 * (across == size) + (along == room)) * full + box.width * box.height


MANNERS = tuple(
    Manner(first, opening, by_match)
    for opening in (by_rank, by_area)
    for first in (Way.UPRIGHT, Way.LEVEL)
)


def guillotine_filler(order: Order, stages: int | None) -> Filler:
    """Return a filler whose sheets can be cut from edge to edge in so many stages, and trims.

    Of several manners the one is taken that gets most of the area onto the sheet.
    """
    lie = [lying(order, bed, range(len(order.boxes))) for bed in range(len(order.beds))]

    def fill_sheet(kinds: Sequence[int], bed: int, work: Work) -> Filled:
        best, least = None, -1
        for manner in MANNERS:
            remaining = counted(kinds)
            cutting = whole(order, bed, stages)
            fill(cutting, remaining, lie[bed], manner, work)
            rest = sum(order.boxes[kind].area * count for kind, count in remaining.items())
            if best is None or rest < least:
                best, least = cutting, rest
            if not rest:
                break
        assert best is not None
        work.spend(5 * len(best.boxes))
        return as_filled(best, kinds, order, bed, stages)

    return fill_sheet


def counted(kinds: Sequence[int]) -> dict[int, int]:
    """Return how often each kind is listed, in the order in which they come."""
    remaining: dict[int, int] = {}
    for kind in kinds:
        remaining[kind] = remaining.get(kind, 0) + 1
    return remaining


def as_filled(
    cutting: Cutting, kinds: Sequence[int], order: Order, bed: int, stages: int | None
) -> Filled:
    """Return a filled sheet with its cuts in the order of a person; the last of a kind are left."""
    sheet = order.beds[bed]
    cuts = cuts_of(block_of(cutting.tree(), order), sheet.width, sheet.height, stages)
    placed = placed_by(cuts)
    used = counted([box.kind for box in placed])
    left = []
    for position, kind in enumerate(kinds):
        if used.get(kind, 0):
            used[kind] -= 1
        else:
            left.append(position)
    return Filled(placed, tuple(left), cuts)
