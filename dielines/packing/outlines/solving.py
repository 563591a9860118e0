"""Parts with their outlines on as few sheets as can be, in the units of their boxes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from ..kits import solve
from ..order import Order, Plan, Work
from .grid import units_a_cell
from .method import outline_method
from .raster import rasters_of
from .rings import Ring, shape_of_rings
from .tidying import tidied_plan


@dataclass(frozen=True)
class Outline:
    """A kind of part: exterior and holes, and the quarter turns in which it may lie.

    The box of the order is the one around it at no turn, and the gap.
    """

    rings: tuple[Ring, ...]
    quarters: tuple[int, ...]


def outline_plan(
    order: Order,
    outlines: Sequence[Outline],
    scale: tuple[float, float],
    work: Work,
    candidates: Sequence[Plan] = (),
) -> Plan:
    """Return the best plan that is found, never dearer than one of the *candidates*.

    *scale*: what a unit of the order and the gap between parts measure, in the unit of
    the rings. The grid of the outlines lies on the units, so that sheets of outlines and
    sheets of exact boxes share one plan. Its sheets are filled from below, so that what is
    left of them is one piece where that can be had.
    """
    unit, gap = scale
    corners = (
        (along - min(point[axis] for point in ring)) / unit
        for outline in outlines
        for ring in outline.rings
        for axis in (0, 1)
        for along in (point[axis] for point in ring)
    )
    cell = units_a_cell([*corners, gap / unit], order)
    shapes = tuple(
        shape_of_rings(outline.rings, cell * unit, gap, outline.quarters) for outline in outlines
    )
    plan = solve(order, outline_method(order, shapes, cell), work, candidates)
    return tidied_plan(order, plan, rasters_of(order, shapes, cell), work)
