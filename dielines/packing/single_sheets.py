"""Single sheets improved after whole numbers of patterns have been found."""

from __future__ import annotations

from collections.abc import Sequence

from .order import Method, Order, Pattern, Work
from .rounding import holds, price_of, remainder
from .thinning import Run, exactly, joined

MOST_SHEETS = 60  #: worked on at a time; of more, those that are cut least often


def singly_improved(
    order: Order, method: Method, runs: Sequence[Run], bound: int, work: Work
) -> list[Run]:
    """Return runs that cost no more than *runs*, until *bound* or the end of the work."""
    if method.improver is None or work.is_over:
        return list(runs)
    kept, sheets = _parted(runs)
    enough = bound - price_of(order, kept)
    found = method.improver(_part_of(order, kept, sheets), sheets, enough, work)
    others = joined([*kept, *((pattern, 1) for pattern in found)])
    if not holds(order, others) or price_of(order, others) >= price_of(order, runs):
        return list(runs)
    return exactly(order, others)


def _parted(runs: Sequence[Run]) -> tuple[list[Run], list[Pattern]]:
    """Return the runs that are kept, and the single sheets to be improved."""
    kept: list[Run] = []
    sheets: list[Pattern] = []
    for pattern, times in sorted(runs, key=lambda run: run[1]):
        taken = min(times, MOST_SHEETS - len(sheets))
        sheets += [pattern] * taken
        kept.append((pattern, times - taken))
    return joined(kept), sheets


def _part_of(order: Order, kept: Sequence[Run], sheets: Sequence[Pattern]) -> Order:
    """Return the order for what lies on *sheets*, and for the kinds of sheet that are left."""
    counts = [0] * len(order.boxes)
    for pattern in sheets:
        for box in pattern.placed:
            counts[box.kind] += 1
    return Order(order.boxes, tuple(counts), remainder(order, kept).beds)
