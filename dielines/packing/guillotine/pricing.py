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
from dataclasses import dataclass
from operator import mul, sub

from ..order import Order, Priced, Pricer, Way, Work
from .blocks import Block, block_of, cuts_of, pattern_of
from .filling import Cutting, Lying, Manner, Piece, fill, lying, whole
from .programme import Wanted, programme, relaxed_best
from .shelves import by_match, by_rank
from .sums import coarse_unit

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


@dataclass(frozen=True)
class _Sheet:
    """One kind of sheet of an order, how it is cut, and the unit of its bound on fine lengths."""

    order: Order
    bed: int
    stages: int | None
    lie: dict[int, tuple[Lying, ...]]
    unit: int

    def unlimited(
        self, prices: Sequence[int], limits: Sequence[int], work: Work
    ) -> tuple[Block | None, int]:
        """Return the best block with each box as often as one likes, and a bound on its value."""
        wanted = [
            Wanted(Block(box.width, box.height, kind, box.quarters), prices[kind], limits[kind])
            for kind, ways in self.lie.items()
            for box in ways
        ]
        sheet = self.order.beds[self.bed]
        size = (sheet.width, sheet.height)
        found = programme(wanted, *size, self.stages, work)
        if found.is_exact:
            return found.block(), found.best
        return found.block(), relaxed_best(wanted, *size, self.unit, self.stages, work)

    def within(
        self, block: Block | None, prices: Sequence[int], limits: Sequence[int], work: Work
    ) -> Priced:
        """Return a pattern without the boxes that are too many, its gaps filled with others."""
        sheet = self.order.beds[self.bed]
        cutting = whole(self.order, self.bed, self.stages)
        cutting.follow(cuts_of(block, sheet.width, sheet.height, self.stages), self.lie)
        remaining = _without_surplus(cutting, limits)
        kinds = [kind for kind, count in remaining.items() if count > 0]
        ranked = next(_rankings(self.order, prices, kinds))
        left = {kind: remaining[kind] for kind in ranked}
        fill(cutting, left, self.lie, Manner(Way.UPRIGHT, by_rank, by_rank), work)
        found = block_of(cutting.tree(), self.order)
        pattern = pattern_of(found, self.order, self.bed, self.stages)
        return Priced(pattern, _worth(cutting, prices), None)


def _without_surplus(cutting: Cutting, limits: Sequence[int]) -> dict[int, int]:
    """Take boxes off that are too many; return how many more of each kind there may be."""
    remaining = dict(enumerate(limits))
    for number, box in sorted(cutting.boxes.items()):
        if remaining[box.kind] > 0:
            remaining[box.kind] -= 1
        else:
            del cutting.boxes[number]
    return remaining


def guillotine_pricer(order: Order, stages: int | None = None) -> Pricer:
    """Return a pricer by the programme: exact where no box is used too often, always bounded.

    *at_most* is proved; the pattern keeps within the limits. Where lengths are so fine
    that cuts could stand at too many places, only some are tried, and the bound is that
    of a coarser unit.
    """
    sheets = [_sheet(order, bed, stages) for bed in range(len(order.beds))]

    def price(prices: Sequence[int], limits: Sequence[int], bed: int, work: Work) -> Priced:
        sheet, lowered = sheets[bed], [0] * len(prices)
        best, at_most = Priced(None, 0, None), sum(map(mul, prices, limits))
        for step in range(ROUNDS):
            block, value = sheet.unlimited(list(map(sub, prices, lowered)), limits, work)
            bound = value + sum(map(mul, lowered, limits))
            at_most = min(at_most, bound)
            found = sheet.within(block, prices, limits, work)
            best = max(best, found, key=lambda priced: priced.value)
            if best.value >= at_most or work.is_over:
                break
            used = _used(block, len(prices))
            lowered = _lower(prices, lowered, used, limits, bound - best.value, step)
        return Priced(best.pattern, best.value, at_most)

    return price


def _sheet(order: Order, bed: int, stages: int | None) -> _Sheet:
    lie = lying(order, bed, range(len(order.boxes)))
    sides = [side for ways in lie.values() for box in ways for side in (box.width, box.height)]
    sheet = order.beds[bed]
    unit = coarse_unit(sides, max(sheet.width, sheet.height))
    return _Sheet(order, bed, stages, lie, unit)


def _used(block: Block | None, kinds: int) -> list[int]:
    used = [0] * kinds
    blocks = [block] if block else []
    while blocks:
        one = blocks.pop()
        if one.kind is not None:
            used[one.kind] += 1
        blocks += one.parts
    return used


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
