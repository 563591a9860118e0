"""How real outlines are cut, as the solver of kits and of single books sees it."""

from __future__ import annotations

from ..cells import Shape
from ..free_rectangles import free_rectangle_filler
from ..order import Method, Order
from ..skyline import skyline_filler
from .filler import lowest_filler
from .foresight import foreseeing_filler_on
from .pricer import outline_pricers
from .raster import rasters_of


def outline_method(order: Order, shapes: tuple[Shape, ...], cell: int = 1) -> Method:
    """Return the method for parts that are not rectangles; its bound stays open.

    *order*: the boxes around the parts; *cell*: how many of its units a cell of
    *shapes* measures. Sheets filled by those boxes are legal for outlines as well, and
    exact where cells are not, so they are tried too.
    """
    rasters = rasters_of(order, shapes, cell)
    fillers = (
        lowest_filler(rasters),
        foreseeing_filler_on(rasters),
        skyline_filler(order),
        free_rectangle_filler(order),
    )
    return Method(fillers, outline_pricers(rasters), None)
