"""Boxes placed freely on sheets, as a machine cuts them."""

from __future__ import annotations

from collections.abc import Sequence

from .bounds import dff_bound
from .free_pricing import free_pricers
from .free_rectangles import free_rectangle_filler
from .greedy import greedy_patterns
from .insertion import improved
from .order import Filler, Method, Order, Pattern, Work
from .skyline import skyline_filler


def free_method(order: Order) -> Method:
    """Return how boxes are placed where a cut may begin and end anywhere."""
    fillers = free_fillers(order)

    def improve(
        part: Order, patterns: Sequence[Pattern], bound: int, work: Work
    ) -> Sequence[Pattern]:
        return improved(part, fillers, patterns, bound, work)

    return Method(fillers, free_pricers(order), dff_bound, improve)


def free_fillers(order: Order) -> tuple[Filler, ...]:
    """Return the fillers for free placement; they may be asked for any part of the order."""
    return (skyline_filler(order), free_rectangle_filler(order))


def free_patterns(order: Order, work: Work) -> tuple[Pattern, ...]:
    """Return sheets for an order, one by one: a fast answer, then fewer while there is work.

    For orders of many different boxes. Raises NoRoom where the sheets do not hold them.
    """
    kinds = [kind for kind, count in enumerate(order.counts) for _ in range(count)]
    bound, fillers = dff_bound(order), free_fillers(order)
    patterns = greedy_patterns(order, fillers, kinds, work, bound)
    return improved(order, fillers, patterns, bound, work)
