"""A first strip: one part after the other, each as far left as it can lie."""

from __future__ import annotations

from collections.abc import Sequence

from dielines.packing.strips.board import Board, Spot, used_length
from dielines.packing.strips.fits import Fits
from dielines.packing.strips.outline import StripOrder


def first_spots(order: StripOrder, fits: Fits) -> list[Spot]:
    """Return spots for all parts without overlaps: the shortest strip of a few orders of parts."""
    found = [_spots(order, fits, items) for items in _orders(order, fits)]
    return min(found, key=lambda spots: used_length(fits, spots))


def _orders(order: StripOrder, fits: Fits) -> list[list[int]]:
    items = range(len(fits.items))
    areas = [outline.twice_area for outline in order.outlines]
    longest = [max(outline.size) for outline in order.outlines]
    return [
        sorted(items, key=lambda item: (-areas[fits.items[item]], item)),
        sorted(items, key=lambda item: (-longest[fits.items[item]], item)),
    ]


def _spots(order: StripOrder, fits: Fits, items: Sequence[int]) -> list[Spot]:
    length = _guess(order)
    while True:
        board = Board(fits, length, order.width)
        if all(_is_put(board, item) for item in items):
            return [spot for spot in board.spots if spot]
        length += length // 4 + order.pitch


def _guess(order: StripOrder) -> int:
    """Return a length on which all parts should find room without care."""
    kinds = range(len(order.outlines))
    twice = sum(order.outlines[kind].twice_area * order.counts[kind] for kind in kinds)
    return twice * 5 // (6 * order.width) + max(max(outline.size) for outline in order.outlines)


def _is_put(board: Board, item: int) -> bool:
    """Lay a part where its right end is leftmost; return whether there was room."""
    spots = [spot for lying in board.fits.of[item] if (spot := _leftmost(board, lying))]
    if not spots:
        return False
    fits = board.fits
    board.spots[item] = min(spots, key=lambda spot: (used_length(fits, [spot]), spot.x, spot))
    return True


def _leftmost(board: Board, lying: int) -> Spot | None:
    free = board.map(lying, {}) == 0
    if not free.any():
        return None
    x, y = divmod(int(free.argmax()), free.shape[1])
    return Spot(lying, x, y)
