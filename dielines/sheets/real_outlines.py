"""Real outlines in place of the rectangles around them: cut-away corners and windows hold parts."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from fractions import Fraction

from ..packing.cells import Shape
from ..packing.kits import solve
from ..packing.order import Plan, Work
from ..packing.outlines.grid import cell_for
from ..packing.outlines.method import outline_method
from ..packing.outlines.rings import Ring, shape_of_rings
from ..paths import bounds_of
from .outline_bound import is_rectangle, least_price, rings_of, ways_to_lie
from .problem import Problem, problem_in
from .scale import Scale
from .wanted import Wanted


def with_real_outlines(
    problem: Problem, plan: Plan, new_work: Callable[[], Work]
) -> tuple[Problem, Plan]:
    """Return the problem and the plan in which real outlines need less, or *plan* as it is.

    *plan* is one of the rectangles around the parts. The bound that comes with what is
    returned holds for the outlines.
    """
    rings = [rings_of(one) for one in problem.wanted]
    if not problem.order.boxes or all(map(is_rectangle, rings)):
        return problem, plan
    price = plan.price(problem.order.beds)
    least = least_price(problem, rings, price, new_work())
    if price <= least:
        return problem, replace(plan, bound=least)
    finer = _in_cells(problem)
    if len(finer.wanted) < len(problem.wanted):  # a part that just fits is too large in cells
        return problem, replace(plan, bound=least, is_open=True)
    shapes = tuple(_shape(one, ring, finer) for one, ring in zip(finer.wanted, rings, strict=True))
    old = [plan] if finer.scale == problem.scale else []
    found = solve(finer.order, outline_method(finer.order, shapes), new_work(), old)
    if found.price(finer.order.beds) < price:
        problem, plan = finer, found
    price = plan.price(problem.order.beds)
    return problem, replace(plan, bound=least, is_open=price > least)


def _in_cells(problem: Problem) -> Problem:
    """Return *problem* in cells of a grid."""
    longest = max(side.mm for room in problem.rooms for side in room.size)
    lengths = {problem.gap.mm}
    for one in problem.wanted:
        lengths.update(_corners(one))
    cell = cell_for(lengths, longest)
    if cell == problem.scale.unit:
        return problem
    finer = problem_in(Scale(cell), problem.wanted, problem.rooms, problem.gap)
    return replace(finer, too_large=(*problem.too_large, *finer.too_large))


def _corners(one: Wanted) -> set[Fraction]:
    """Return the distances of all corners of a part from its lower left, where they are exact."""
    box = bounds_of(one.part.outline[:1])
    return {
        distance
        for path in one.part.outline
        for vertex in path.vertices
        for distance in (vertex.x - box.left, vertex.y - box.bottom)
        if isinstance(distance, Fraction)
    }


def _shape(one: Wanted, rings: Sequence[Ring], problem: Problem) -> Shape:
    """Return the cells of a part in every way in which it may lie on one sheet or another."""
    quarters = ways_to_lie(one, problem)
    return shape_of_rings(rings, float(problem.scale.unit), float(problem.gap.mm), quarters)
