"""How real outlines are cut, as the solver of kits and of single books sees it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from ..cells import Shape
from ..free_rectangles import free_rectangle_filler
from ..insertion import improved
from ..order import Box, Filler, Improver, Method, Order, Pattern, Work
from ..share import Share
from ..skyline import skyline_filler
from .filler import lowest_filler
from .foresight import foreseeing_filler_on
from .pricer import outline_pricers
from .raster import rasters_of

IMPROVING = 50  #: percent of the work that is left then; the rest is for fewer kinds of sheet


def outline_method(order: Order, shapes: tuple[Shape, ...], cell: int = 1) -> Method:
    """Return the method for parts that are not rectangles; its bound stays open.

    *order*: the boxes around the parts; *cell*: how many of its units a cell of
    *shapes* measures. Sheets filled by those boxes are legal for outlines as well, and
    exact where cells are not, so they are tried too.
    """
    rasters = rasters_of(order, shapes, cell)
    lowest, foreseeing = lowest_filler(rasters), foreseeing_filler_on(rasters)
    boxes = (skyline_filler(order), free_rectangle_filler(order))
    return Method(
        (lowest, foreseeing, *boxes),
        outline_pricers(rasters),
        None,
        _improver((lowest, foreseeing), shapes, cell),
    )


def _improver(fillers: tuple[Filler, ...], shapes: Sequence[Shape], cell: int) -> Improver:
    """Return what improves single sheets, until they cost no more than their parts by area."""
    areas = [min(cells.area for _, cells in shape.lying) * cell * cell for shape in shapes]

    def improve(
        part: Order, patterns: Sequence[Pattern], bound: int, work: Work
    ) -> tuple[Pattern, ...]:
        area = sum(count * each for count, each in zip(part.counts, areas, strict=True))
        by_area = min((-(-area * bed.price // bed.area) for bed in part.beds), default=0)
        slim = replace(part, boxes=tuple(map(_slim, part.boxes, areas)))
        return improved(slim, fillers, patterns, max(bound, by_area), Share(work, IMPROVING))

    return improve


def _slim(box: Box, area: int) -> Box:
    """Return a box as long as the one around an outline, and no larger than the outline is.

    The fillers know the outline; by the box, sheets are only weighed. The one around it
    would say that two hooks which interlock are too large for their sheet.
    """
    long = max(box.width, box.height)
    return Box(long, max(1, area // long), box.may_turn)
