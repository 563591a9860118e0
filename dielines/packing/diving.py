"""Sheet after sheet taken from the best mixture, patterns made anew for what is left.

Rounding a mixture of patterns for the whole order leaves boxes over for which those
patterns are no good; patterns made for just them are.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from .first_answer import first_runs
from .generation import Generated, quickly_generated
from .order import Method, Order, Pattern, Work
from .rounding import remainder
from .thinning import Run, exactly, without

ALMOST = 0.999  #: so large a share of a sheet is taken for the whole


def dived(order: Order, method: Method, patterns: Sequence[Pattern], work: Work) -> list[Run]:
    """Return runs that place exactly what is ordered, begun with the mixture of *patterns*.

    Raises NoRoom where the sheets that are left do not hold the rest.
    """
    runs: list[Run] = []
    rest = order
    while any(rest.counts):
        if work.is_over:
            runs += first_runs(rest, method.fillers, work)
            break
        start = [pattern for pattern, _ in first_runs(rest, method.fillers, work)]
        made = quickly_generated(rest, method, [*start, *_usable(rest, patterns)], work)
        patterns = made.patterns
        runs += _taken(rest, made)
        rest = remainder(order, runs)
    return exactly(order, runs)


def _usable(rest: Order, patterns: Sequence[Pattern]) -> list[Pattern]:
    """Return *patterns* with no more of a kind than is left, and some that hold all of it."""
    found: dict[tuple[int, tuple[int, ...]], Pattern] = {}
    kinds = len(rest.counts)
    for pattern in patterns:
        if rest.beds[pattern.bed].at_most == 0:
            continue
        over = [n - left for n, left in zip(pattern.counts(kinds), rest.counts, strict=True)]
        fewer = without(pattern, [max(0, much) for much in over])
        if fewer.placed:
            found.setdefault((fewer.bed, fewer.counts(kinds)), fewer)
    return list(found.values())


def _taken(rest: Order, made: Generated) -> list[Run]:
    """Return the whole part of the mixture; the pattern with the largest share where there is none."""
    shares = list(zip(made.patterns, made.prices.shares, strict=False))
    whole = [(pattern, math.floor(share + 1 - ALMOST)) for pattern, share in shares]
    if any(times for _, times in whole):
        return [(pattern, times) for pattern, times in whole if times]
    best = max(range(len(shares)), key=lambda place: (round(shares[place][1] * 10**6), -place))
    return [(shares[best][0], 1)]
