"""Real outlines in place of the rectangles around them: cut-away corners and windows hold parts."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from ..packing.order import Plan, Work
from ..packing.outlines.solving import Outline, outline_plan
from .outline_bound import is_rectangle, least_price, rings_of, ways_to_lie
from .problem import Problem


def with_real_outlines(problem: Problem, plan: Plan, new_work: Callable[[], Work]) -> Plan:
    """Return the plan in which real outlines need less, or *plan* as it is.

    *plan* is one of the rectangles around the parts. The bound that comes with what is
    returned holds for the outlines.
    """
    rings = [rings_of(one) for one in problem.wanted]
    if not problem.order.boxes or all(map(is_rectangle, rings)):
        return plan
    beds = problem.order.beds
    least = least_price(problem, rings, plan.price(beds), new_work())
    if plan.price(beds) <= least:
        return replace(plan, bound=least)
    outlines = [
        Outline(tuple(map(tuple, own)), tuple(ways_to_lie(one, problem)))
        for one, own in zip(problem.wanted, rings, strict=True)
    ]
    scale = float(problem.scale.unit), float(problem.gap.mm)
    found = outline_plan(problem.order, outlines, scale, new_work(), [plan])
    best = min(plan, found, key=lambda one: one.price(beds))
    return replace(best, bound=least, is_open=best.price(beds) > least)
