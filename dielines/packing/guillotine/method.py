"""The trimmer as a way to cut: what the solver of kits and single books asks for."""

from __future__ import annotations

from ..bounds import dff_bound
from ..order import Method, Order
from .pricing import guillotine_pricer, shelf_pricer
from .shelves import guillotine_filler


def guillotine_method(order: Order, stages: int | None) -> Method:
    """Return the fillers and pricers for cuts from edge to edge in so many stages, and trims.

    None: any number of stages. The bound is one on free placement, which cuts from
    edge to edge cannot beat.
    """
    return Method(
        fillers=(guillotine_filler(order, stages),),
        pricers=(shelf_pricer(order, stages), guillotine_pricer(order, stages)),
        count_bound=dff_bound,
    )
