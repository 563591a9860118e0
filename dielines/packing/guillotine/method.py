"""The trimmer as a way to cut: what the solver of kits and single books asks for."""

from __future__ import annotations

from collections.abc import Sequence

from ..bounds import dff_bound
from ..greedy import greedy_patterns
from ..order import Method, Order, Pattern, Work
from .insertion import fewer_sheets
from .pricing import guillotine_pricer, shelf_pricer
from .shelves import guillotine_filler


def guillotine_method(order: Order, stages: int | None) -> Method:
    """Return the fillers and pricers for cuts from edge to edge in so many stages, and trims.

    None: any number of stages. The bound is one on free placement, which cuts from
    edge to edge cannot beat.
    """

    def improve(
        part: Order, patterns: Sequence[Pattern], bound: int, work: Work
    ) -> tuple[Pattern, ...]:
        return fewer_sheets(part, stages, patterns, bound, work)

    return Method(
        fillers=(guillotine_filler(order, stages),),
        pricers=(shelf_pricer(order, stages), guillotine_pricer(order, stages)),
        count_bound=dff_bound,
        improver=improve,
    )


def guillotine_patterns(order: Order, stages: int | None, work: Work) -> tuple[Pattern, ...]:
    """Return sheets for an order, one by one: a fast answer first, then fewer while there is work.

    For single books and other orders of many different boxes. Raises NoRoom where a
    box fits no sheet.
    """
    kinds = [kind for kind, count in enumerate(order.counts) for _ in range(count)]
    bound = dff_bound(order)
    patterns = greedy_patterns(order, (guillotine_filler(order, stages),), kinds, work, bound)
    return fewer_sheets(order, stages, patterns, bound, work)
