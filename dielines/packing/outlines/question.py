"""What is asked of a sheet of outlines, and the orders in which its parts are tried."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from ..lots import Lots
from ..order import Filled, Work
from .filler import Wish
from .raster import Corner, Raster

TRIES = 60  #: orders by lot

#: The lower left corner comes up twice as often: parts then lie close together.
CORNERS: tuple[Corner, ...] = (*Corner, Corner.LOW_LEFT)


class Question(NamedTuple):
    """What is asked of a sheet, and the parts that could come onto it."""

    raster: Raster
    prices: Sequence[int]
    areas: Sequence[int]
    copies: Sequence[int]  #: kinds, each as often as it may lie there
    work: Work

    def value(self, found: Filled) -> int:
        """Return what the parts on a sheet are worth."""
        return sum(self.prices[box.kind] for box in found.placed)

    def density(self) -> list[int]:
        """Return what each kind is worth for its area, in whole numbers."""
        room = self.raster.width * self.raster.height
        return [
            price * room // area if area else 0
            for price, area in zip(self.prices, self.areas, strict=True)
        ]

    def sorted_copies(self) -> Iterator[list[int]]:
        """Yield the parts by worth for their area, by worth, and by area."""
        for keys in (self.density(), self.prices, self.areas):
            yield _sorted(self.copies, keys, self.areas)


def question_of(
    raster: Raster, prices: Sequence[int], limits: Sequence[int], work: Work
) -> Question:
    """Return the question, with as many copies of each kind as its limit and its area allow."""
    areas, room = raster.areas(), raster.width * raster.height
    copies = [
        kind
        for kind, area in enumerate(areas)
        for _ in range(min(limits[kind], room // area) if area else 0)
    ]
    return Question(raster, prices, areas, copies, work)


def sorted_kinds(question: Question) -> list[int]:
    """Return the kinds, each once, the dearest for its area first."""
    return _sorted(sorted(set(question.copies)), question.density(), question.areas)


def _sorted(copies: Sequence[int], keys: Sequence[int], areas: Sequence[int]) -> list[int]:
    return sorted(copies, key=lambda kind: (-keys[kind], -areas[kind], kind))


def orders(question: Question) -> Iterator[list[Wish]]:
    """Yield the parts in the sorted orders, then by lot."""
    for kinds in question.sorted_copies():
        yield [Wish(kind) for kind in kinds]
    lots, dense = Lots(len(question.copies)), question.density()
    for _ in range(TRIES):
        yield _by_lot(question.copies, dense, lots)


def _by_lot(copies: Sequence[int], dense: Sequence[int], lots: Lots) -> list[Wish]:
    """Return the parts roughly by worth for their area, some towards other corners."""
    keys = [value * (60 + lots.below(80)) for value in dense]
    drawn = [
        (-keys[kind] if lots.below(3) else -dense[kind] * (60 + lots.below(80)), place)
        for place, kind in enumerate(copies)
    ]
    return [Wish(copies[place], CORNERS[lots.below(len(CORNERS))]) for _, place in sorted(drawn)]
