"""Boxes placed freely on sheets, as a machine cuts them."""

from __future__ import annotations

from collections.abc import Sequence

from .bounds import dff_bound
from .free_pricing import free_pricers
from .free_rectangles import Rule, free_rectangle_filler
from .greedy import greedy_patterns
from .insertion import improved
from .order import Filler, Improver, Method, Order, Pattern, Work
from .order_search import searching_filler
from .skyline import skyline_filler

PATIENCE = 30_000  #: steps of the search for an order of many boxes on one sheet


def free_method(order: Order) -> Method:
    """Return how boxes are placed where a cut may begin and end anywhere."""
    return Method(free_fillers(order), free_pricers(order), dff_bound, free_improver(order))


def free_fillers(order: Order) -> tuple[Filler, ...]:
    """Return the fillers for free placement; they may be asked for any part of the order."""
    return (skyline_filler(order), free_rectangle_filler(order))


def free_improver(order: Order) -> Improver:
    """Return what empties single sheets of the order, or of any part of it."""
    fillers = free_fillers(order)
    patient = searching_filler(order, fillers[0], PATIENCE)

    def improve(
        part: Order, patterns: Sequence[Pattern], bound: int, work: Work
    ) -> Sequence[Pattern]:
        return improved(part, fillers, patterns, bound, work, patient)

    return improve


def first_patterns(order: Order, bound: int, work: Work) -> tuple[Pattern, ...]:
    """Return sheets for an order in no time, one by one."""
    kinds = [kind for kind, count in enumerate(order.counts) for _ in range(count)]
    fillers = (*free_fillers(order), free_rectangle_filler(order, Rule.LOWEST))
    return greedy_patterns(order, fillers, kinds, work, bound)


def free_patterns(order: Order, work: Work) -> tuple[Pattern, ...]:
    """Return sheets for an order, one by one: a fast answer, then fewer while there is work.

    For orders of many different boxes. Raises NoRoom where the sheets do not hold them.
    """
    bound = dff_bound(order)
    patterns = first_patterns(order, bound, work)
    return tuple(free_improver(order)(order, patterns, bound, work))
