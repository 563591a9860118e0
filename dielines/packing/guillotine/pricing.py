"""The most valuable sheet of boxes of which there are only so many.

The programme lets every box be used as often as one likes. Where the best pattern
holds too many of a box, its price is lowered until it does not (Lagrangean
relaxation): what the lowered prices make of a sheet, plus the limit of each box times
what its price was lowered by, is a proved bound on every pattern within the limits
(Beasley, "An exact two-dimensional non-guillotine cutting tree search procedure", 1985,
uses the same for free placement).
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from ..order import Order, Pattern, Priced, Pricer, Way, Work
from .blocks import Block, block_of, box_block, cuts_of, pattern_of
from .filling import Cutting, Lying, Manner, Piece, fill, lying, whole
from .programme import Wanted, programme
from .shelves import by_match, by_rank

#: How often prices are lowered, at most.
ROUNDS = 12


def shelf_pricer(order: Order, stages: int | None) -> Pricer:
    """Return a pricer that fills sheets by price; fast, within the limits, no bound."""
    lie = [lying(order, bed, range(len(order.boxes))) for bed in range(len(order.beds))]

    def price(prices: Sequence[int], limits: Sequence[int], bed: int, work: Work) -> Priced:
        kinds = [kind for kind, value in enumerate(prices) if limits[kind] > 0 < value]
        best = Priced(None, 0, None)
        for manner in _manners(order, prices):
            for ranked in _rankings(order, prices, kinds):
                cutting = whole(order, bed, stages)
                fill(cutting, {kind: limits[kind] for kind in ranked}, lie[bed], manner, work)
                value = _worth(cutting, prices)
                if value > best.value:
                    block = block_of(cutting.tree(), order)
                    best = Priced(pattern_of(block, order, bed, stages), value, None)
        return best

    return price


def _rankings(order: Order, prices: Sequence[int], kinds: list[int]) -> Iterator[list[int]]:
    """Yield the kinds by price for the area, by price, and by area; the best first."""
    area = [box.area for box in order.boxes]
    yield sorted(kinds, key=lambda kind: (-(prices[kind] << 40) // area[kind], kind))
    yield sorted(kinds, key=lambda kind: (-prices[kind], -area[kind], kind))
    yield sorted(kinds, key=lambda kind: (-area[kind], kind))


def _manners(order: Order, prices: Sequence[int]) -> Iterator[Manner]:
    def by_price(box: Lying, piece: Piece) -> int:
        return prices[box.kind]

    for first in (Way.UPRIGHT, Way.LEVEL):
        for matching in (by_match, by_price, by_rank):
            yield Manner(first, by_rank, matching)


def _worth(cutting: Cutting, prices: Sequence[int]) -> int:
    return sum(prices[box.kind] for box in cutting.boxes.values())


def guillotine_pricer(order: Order, stages: int | None = None) -> Pricer:
    """Return a pricer by the programme: exact where no box is used too often, always bounded.

    *at_most* is proved; the pattern keeps within the limits.
    """
    lie = [lying(order, bed, range(len(order.boxes))) for bed in range(len(order.beds))]

    def price(prices: Sequence[int], limits: Sequence[int], bed: int, work: Work) -> Priced:
        lowered = [0] * len(prices)
        best, at_most = Priced(None, 0, None), None
        for step in range(ROUNDS):
            now = [max(0, value - less) for value, less in zip(prices, lowered, strict=True)]
            block, value = _unlimited(order, now, limits, bed, stages, work)
            bound = value + sum(less * limit for less, limit in zip(lowered, limits, strict=True))
            at_most = bound if at_most is None else min(at_most, bound)
            found = _within(order, block, prices, limits, bed, stages, lie[bed], work)
            best = max(best, found, key=lambda priced: priced.value)
            used = _used(block, len(prices))
            if best.value >= at_most or work.is_over:
                break
            lowered = _lower(prices, lowered, used, limits, bound - best.value, step)
        return Priced(best.pattern, best.value, at_most)

    return price


def _unlimited(
    order: Order, prices: list[int], limits: Sequence[int], bed: int, stages: int | None, work: Work
) -> tuple[Block | None, int]:
    wanted = [
        Wanted(box_block(kind, order.boxes[kind], quarters), value, limits[kind])
        for kind, value in enumerate(prices)
        for quarters in order.turns(kind, bed)
    ]
    sheet = order.beds[bed]
    found = programme(wanted, sheet.width, sheet.height, stages, work)
    return found.block(), found.best


def _used(block: Block | None, kinds: int) -> list[int]:
    used = [0] * kinds
    blocks = [block] if block else []
    while blocks:
        one = blocks.pop()
        if one.kind is not None:
            used[one.kind] += 1
        blocks += one.parts
    return used


def _within(
    order: Order,
    block: Block | None,
    prices: Sequence[int],
    limits: Sequence[int],
    bed: int,
    stages: int | None,
    lie: dict[int, tuple[Lying, ...]],
    work: Work,
) -> Priced:
    """Return a pattern without the boxes that are too many, its gaps filled with others."""
    sheet = order.beds[bed]
    cutting = whole(order, bed, stages)
    cutting.follow(cuts_of(block, sheet.width, sheet.height, stages), lie)
    remaining = dict(enumerate(limits))
    for number, box in sorted(cutting.boxes.items()):
        if remaining[box.kind] > 0:
            remaining[box.kind] -= 1
        else:
            del cutting.boxes[number]
    kinds = [kind for kind in remaining if remaining[kind] > 0]
    ranked = next(_rankings(order, prices, kinds))
    left = {kind: remaining[kind] for kind in ranked}
    fill(cutting, left, lie, Manner(Way.UPRIGHT, by_rank, by_rank), work)
    return Priced(_pattern(cutting, order, bed, stages), _worth(cutting, prices), None)


def _pattern(cutting: Cutting, order: Order, bed: int, stages: int | None) -> Pattern:
    return pattern_of(block_of(cutting.tree(), order), order, bed, stages)


def _lower(
    prices: Sequence[int],
    lowered: list[int],
    used: list[int],
    limits: Sequence[int],
    gap: int,
    step: int,
) -> list[int]:
    """Return what to lower the prices by next: a step along the boxes too many (subgradient)."""
    over = [
        many - limit if less or many > limit else 0
        for many, limit, less in zip(used, limits, lowered, strict=True)
    ]
    square = sum(one * one for one in over) or 1
    return [
        min(max(0, less + gap * one * (ROUNDS - step) // (ROUNDS * square)), price)
        for less, one, price in zip(lowered, over, prices, strict=True)
    ]
