"""Books and kits of many copies on as few sheets as can be: which patterns, how often each.

First a fast answer; then, while there is work left, patterns made to measure, whole
numbers of them, and single sheets repacked. What is returned is the best of all, with
a price below which no plan can be.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from contextlib import suppress

from .diving import dived
from .first_answer import first_runs
from .generation import Generated, generated
from .lying import NoRoom
from .order import Method, Order, Plan, Work
from .proof import next_price
from .rounding import fewer_patterns, holds, price_of, rounded_down, whole_runs
from .share import Share
from .single_sheets import singly_improved
from .thinning import Run, exactly

GENERATING, DIVING = 50, 40  #: percent of the work that is left then
MOST_COLUMNS = 80  #: patterns among which the fewest are looked for


def solve(order: Order, method: Method, work: Work, candidates: Sequence[Plan] = ()) -> Plan:
    """Return the best plan for *order* that *method* finds with *work*, and its proved bound.

    *candidates* are plans that are legal for this order, such as one of before a part
    shrank: no plan that covers the order with them is cheaper than the one returned.
    The plan is complete even with no work at all. Raises NoRoom where a kind fits no
    sheet that can be had without limit.
    """
    best = _best_start(order, method, work, candidates)
    bound = _first_bound(order, method)
    if price_of(order, best) > bound and not work.is_over:
        start = [pattern for pattern, _ in best]
        start += [pattern for plan in candidates for pattern, _ in plan.runs]
        made = generated(order, method, start, bound, Share(work, GENERATING))
        bound = max(bound, made.bound)
        best = _rounded(order, method, made, best, bound, work)
        if not work.is_over and len(made.patterns) <= MOST_COLUMNS:
            best = fewer_patterns(order, made.patterns, best, work)
    return Plan(tuple(best), bound, is_open=method.count_bound is None and bound == 0)


def _first_bound(order: Order, method: Method) -> int:
    """Return the bound that counting gives; 0 where nothing can be counted."""
    return next_price(order, method.count_bound(order)) if method.count_bound else 0


def _best_start(order: Order, method: Method, work: Work, candidates: Sequence[Plan]) -> list[Run]:
    plans = [first_runs(order, method.fillers, work)]
    plans += [exactly(order, plan.runs) for plan in candidates if holds(order, plan.runs)]
    return min(plans, key=lambda runs: price_of(order, runs))


def _rounded(
    order: Order, method: Method, made: Generated, best: list[Run], bound: int, work: Work
) -> list[Run]:
    """Return the best whole numbers of sheets that can be had from the mixture."""
    ways: tuple[Callable[[], list[Run] | None], ...] = (
        lambda: whole_runs(order, made.patterns, work),
        lambda: rounded_down(order, method.fillers, made.patterns, work),
        lambda: dived(order, method, made.patterns, Share(work, DIVING)),
        lambda: singly_improved(order, method, best, bound, work),
    )
    for way in ways:
        if price_of(order, best) <= bound:
            break
        with suppress(NoRoom):
            runs = way()
            if runs is not None and price_of(order, runs) < price_of(order, best):
                best = runs
    return best
