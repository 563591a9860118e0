"""Boxes placed freely on sheets, as a machine cuts them."""

from __future__ import annotations

from .bounds import dff_bound
from .free_pricing import free_pricers
from .free_rectangles import free_rectangle_filler
from .order import Method, Order
from .skyline import skyline_filler


def free_method(order: Order) -> Method:
    """Return how boxes are placed where a cut may begin and end anywhere."""
    fillers = (skyline_filler(order), free_rectangle_filler(order))
    return Method(fillers, free_pricers(order), dff_bound)
