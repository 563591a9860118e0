"""Looking for patterns that are worth more than their sheet, with fillers: fast, no proof."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from .first_answer import listed
from .master import is_better
from .order import Filler, Order, Pattern, Work

SEVERAL = 8  #: patterns at most that are looked for at the same prices


def value_of(pattern: Pattern | None, prices: Sequence[int]) -> int:
    """Return what the boxes on a sheet are worth."""
    return sum(prices[box.kind] for box in pattern.placed) if pattern else 0


def better_patterns(
    order: Order, fillers: Sequence[Filler], bed: int, prices: Sequence[int], fair: int, work: Work
) -> list[Pattern]:
    """Return different patterns that are worth more than *fair*, the best one first.

    For each next one the kinds on those before count a quarter, so that it is of others.
    """
    found: list[Pattern] = []
    lowered = list(prices)
    while len(found) < SEVERAL and not work.is_over:
        best = max(
            _patterns(order, fillers, bed, lowered, work),
            key=lambda pattern: value_of(pattern, lowered),
            default=None,
        )
        if best is None or not is_better(value_of(best, prices), len(best.placed), fair):
            break
        found.append(best)
        for kind in {box.kind for box in best.placed}:
            lowered[kind] = min(lowered[kind], prices[kind] // 4)
    return found


def _patterns(
    order: Order, fillers: Sequence[Filler], bed: int, prices: Sequence[int], work: Work
) -> Iterator[Pattern]:
    """Yield what the fillers make of the boxes by price, in several orders."""
    for kinds in _orders(order, prices):
        boxes = listed(order, bed, order.counts, kinds)
        for filler in fillers if boxes else ():
            filled = filler(boxes, bed, work)
            yield Pattern(bed, filled.placed, filled.cuts)
            if work.is_over:
                return


def _orders(order: Order, prices: Sequence[int]) -> tuple[list[int], ...]:
    """Return the kinds: dearest for their area first, dearest first, largest first, longest first.

    Kinds that cost nothing come last in each: they ride free.
    """
    boxes = order.boxes
    dear = [kind for kind in range(len(boxes)) if prices[kind] > 0]
    free = sorted(set(range(len(boxes))) - set(dear), key=lambda kind: (-boxes[kind].area, kind))
    keys = (
        lambda kind: (-prices[kind] * 1000 // boxes[kind].area, kind),
        lambda kind: (-prices[kind], kind),
        lambda kind: (-boxes[kind].area, kind),
        lambda kind: (-max(boxes[kind][:2]), kind),
    )
    return tuple([*sorted(dear, key=key), *free] for key in keys)
