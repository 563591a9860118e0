"""From a mixture of patterns to whole sheets."""

from __future__ import annotations

import math
from collections.abc import Sequence

from .first_answer import first_runs
from .master import columns_of, dearest, priced, rows
from .order import Filler, Order, Pattern, Work
from .programmes import Programme, solved_whole
from .thinning import Run, exactly, joined, surplus

BRANCHES = 500  #: of the search for the best whole numbers
FEW_BRANCHES = 100  #: and of that for few different sheets


def price_of(order: Order, runs: Sequence[Run]) -> int:
    """Return the price of all sheets of *runs*."""
    return sum(order.beds[pattern.bed].price * times for pattern, times in runs)


def whole_runs(order: Order, patterns: Sequence[Pattern], work: Work) -> list[Run] | None:
    """Return the cheapest runs of *patterns* that cover the order, as far as the search came.

    None where it came to no whole numbers at all.
    """
    costs = [order.beds[pattern.bed].price / dearest(order) for pattern in patterns]
    matrix, right = rows(order, columns_of(order, patterns))
    programme = Programme(costs, matrix, right, _most_times(order, patterns))
    return _runs(order, patterns, solved_whole(programme, BRANCHES, work).numbers)


def _runs(
    order: Order, patterns: Sequence[Pattern], times: Sequence[int] | None
) -> list[Run] | None:
    """Return the runs, no box too many; None where they do not cover the order."""
    if times is None:
        return None
    runs = joined(list(zip(patterns, times, strict=False)))
    return exactly(order, runs) if holds(order, runs) else None


def _most_times(order: Order, patterns: Sequence[Pattern]) -> list[int]:
    """Return how often each pattern can be wanted: until one of its kinds is there in full."""
    kinds = len(order.boxes)
    return [
        max(
            (math.ceil(order.counts[kind] / n) for kind, n in enumerate(p.counts(kinds)) if n),
            default=0,
        )
        for p in patterns
    ]


def holds(order: Order, runs: Sequence[Run]) -> bool:
    """Return whether *runs* place all boxes, on no more sheets than there are."""
    if min(surplus(order, runs), default=0) < 0:
        return False
    used = [0] * len(order.beds)
    for pattern, times in runs:
        used[pattern.bed] += times
    return all(
        bed.at_most is None or much <= bed.at_most
        for bed, much in zip(order.beds, used, strict=True)
    )


def remainder(order: Order, runs: Sequence[Run]) -> Order:
    """Return the order for what *runs* leave over, and for the sheets that they leave."""
    used = [0] * len(order.beds)
    for pattern, times in runs:
        used[pattern.bed] += times
    beds = tuple(
        bed if bed.at_most is None else bed._replace(at_most=max(0, bed.at_most - much))
        for bed, much in zip(order.beds, used, strict=True)
    )
    counts = tuple(max(0, -over) for over in surplus(order, runs))
    return Order(order.boxes, counts, beds)


def rounded_down(
    order: Order, fillers: Sequence[Filler], patterns: Sequence[Pattern], work: Work
) -> list[Run]:
    """Return the whole part of the best mixture, and sheets filled anew for the rest.

    Raises NoRoom where the sheets that are left do not hold it.
    """
    shares = priced(order, columns_of(order, patterns), work).shares
    whole = [(p, math.floor(n + 1e-6)) for p, n in zip(patterns, shares, strict=True)]
    whole = joined(whole)
    rest = first_runs(remainder(order, whole), fillers, work)
    return exactly(order, [*whole, *rest])


def fewer_patterns(
    order: Order, patterns: Sequence[Pattern], runs: Sequence[Run], work: Work
) -> list[Run]:
    """Return runs of the same price as *runs* with fewer different sheets, where some are found.

    Each pattern that is used at all costs one; the price of all sheets is kept.
    """
    import numpy as np

    count = len(patterns)
    matrix, right = rows(order, columns_of(order, patterns))
    most = [float(times) for times in _most_times(order, patterns)]
    prices = [order.beds[pattern.bed].price for pattern in patterns]
    programme = Programme(
        [*[0.0] * count, *[1.0] * count],
        np.block(
            [
                [matrix, np.zeros((len(right), count))],
                [np.eye(count), -np.diag(most)],
                [np.array([prices]), np.zeros((1, count))],
            ]
        ),
        [*right, *[0.0] * count, price_of(order, runs)],
        [*most, *[1.0] * count],
    )
    others = _runs(order, patterns, solved_whole(programme, FEW_BRANCHES, work).numbers)
    if others is None or price_of(order, others) > price_of(order, runs):
        return list(runs)
    return min(list(runs), others, key=len)
