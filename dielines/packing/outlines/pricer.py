"""The most valuable sheet of outlines that many orders find."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from ..cells import Shape
from ..lots import Lots
from ..order import Order, Pattern, Placed, Priced, Pricer, Work
from .filler import Wish, filled, rasters_of
from .raster import Corner, Raster

TRIES = 60

#: The lower left corner comes up twice as often: parts then lie close together.
CORNERS = (*Corner, Corner.LOW_LEFT)


def outline_pricer(order: Order, shapes: tuple[Shape, ...]) -> Pricer:
    """Return a pricer for outlines: greedy, in orders by worth and by lot.

    What no pattern is worth more than stays open.
    """
    raster = rasters_of(order, shapes)

    def price(prices: Sequence[int], limits: Sequence[int], bed: int, work: Work) -> Priced:
        return _best(raster(bed), prices, limits, bed, work)

    return price


def _best(
    raster: Raster, prices: Sequence[int], limits: Sequence[int], bed: int, work: Work
) -> Priced:
    best: tuple[Placed, ...] = ()
    worth = 0
    for wishes in _orders(raster, prices, limits):
        found = filled(raster, wishes, work).placed
        value = sum(prices[box.kind] for box in found)
        if value > worth:
            best, worth = found, value
        if work.is_over:
            break
    return Priced(Pattern(bed, best) if best else None, worth, None)


def _orders(raster: Raster, prices: Sequence[int], limits: Sequence[int]) -> Iterator[list[Wish]]:
    """Yield lists of parts: by worth for their area, by worth, by area, then by lot."""
    areas = [_least_area(raster, kind) for kind in range(len(prices))]
    room = raster.width * raster.height
    dense = [price * room // area if area else 0 for price, area in zip(prices, areas, strict=True)]
    copies = [
        kind
        for kind, area in enumerate(areas)
        for _ in range(min(limits[kind], room // area) if area else 0)
    ]
    for keys in (dense, prices, areas):
        yield _sorted(copies, keys, areas)
    lots = Lots(len(copies) + sum(prices))
    for _ in range(TRIES):
        yield _by_lot(copies, dense, lots)


def _sorted(copies: list[int], keys: Sequence[int], areas: Sequence[int]) -> list[Wish]:
    return [Wish(kind) for kind in sorted(copies, key=lambda k: (-keys[k], -areas[k], k))]


def _by_lot(copies: list[int], dense: list[int], lots: Lots) -> list[Wish]:
    """Return the parts roughly by worth for their area, some towards other corners."""
    keys = [dense[kind] * (60 + lots.below(80)) for kind in range(len(dense))]
    drawn = [
        (-keys[kind] if lots.below(3) else -dense[kind] * (60 + lots.below(80)), place)
        for place, kind in enumerate(copies)
    ]
    return [Wish(copies[place], CORNERS[lots.below(len(CORNERS))]) for _, place in sorted(drawn)]


def _least_area(raster: Raster, kind: int) -> int:
    """Return the cells of a kind, 0 where it does not fit at all."""
    return min((raster.stances[i].cells.area for i in raster.of_kind[kind]), default=0)
