"""Which sheet to do without next: one is emptied, or two; a cheaper one may come in their place."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from ..lots import Lots
from ..order import Order
from .fronts import Bag


@dataclass(frozen=True)
class Load:
    """The boxes on one sheet."""

    bed: int
    bag: Bag


def cheaper(
    order: Order, ranked: Sequence[Load], tries: int, lots: Lots
) -> tuple[list[Load], list[int]]:
    """Return sheets that cost less, and the boxes that have none then.

    First the first of *ranked* goes; where that led nowhere, one by lot of the first
    few. Where there are several kinds of sheet, an empty one may come in its place: a
    cheaper one, or one that is cheaper than two that go.
    """
    if not tries:
        return list(ranked[1:]), list(ranked[0].bag)
    going = [lots.below(min(len(ranked), 1 + tries))]
    new = _new_sheet(order, ranked, lots)
    if new is not None and _price(order, ranked, going) <= order.beds[new].price:
        going.append((going[0] + 1 + lots.below(len(ranked) - 1)) % len(ranked))
        if _price(order, ranked, going) <= order.beds[new].price:
            going, new = going[:1], None
    staying = [load for place, load in enumerate(ranked) if place not in going]
    pool = [kind for place in going for kind in ranked[place].bag]
    return staying + ([] if new is None else [Load(new, ())]), pool


def _new_sheet(order: Order, ranked: Sequence[Load], lots: Lots) -> int | None:
    """Return a kind of sheet that can still be had, by lot; None for no sheet."""
    if len(order.beds) == 1:
        return None
    used = [sum(load.bed == bed for load in ranked) for bed in range(len(order.beds))]
    options = [
        bed
        for bed, sheet in enumerate(order.beds)
        if sheet.at_most is None or used[bed] < sheet.at_most
    ]
    number = lots.below(1 + len(options))
    return options[number - 1] if number else None


def _price(order: Order, ranked: Sequence[Load], places: Sequence[int]) -> int:
    return sum(order.beds[ranked[place].bed].price for place in places)
