"""The most valuable sheet of outlines: by foresight, by lot, then by patient exchange.

The cheapest comes first; the next is asked when it finds nothing better. None of
them proves what no sheet is worth more than.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import NamedTuple

from ..lots import Lots
from ..order import Filled, Pattern, Priced, Pricer, Work
from .filler import Wish, filled
from .foresight import foreseen
from .raster import Corner, Raster, Rasters

TRIES = 60  #: orders by lot
EXCHANGES = 300  #: changes that are tried to the best of a few orders
STARTS = 12
SHARE = 8  #: exchange takes at most one part in so many of the work that is left

#: The lower left corner comes up twice as often: parts then lie close together.
CORNERS: tuple[Corner, ...] = (*Corner, Corner.LOW_LEFT)


class _Question(NamedTuple):
    """What is asked of a sheet, and the parts that could come onto it."""

    raster: Raster
    prices: Sequence[int]
    areas: Sequence[int]
    copies: Sequence[int]  #: kinds, each as often as it may lie there
    work: Work

    def value(self, found: Filled) -> int:
        """Return what the parts on a sheet are worth."""
        return sum(self.prices[box.kind] for box in found.placed)

    def share_ends(self) -> int:
        """Return how much work is spent when exchange has had its share."""
        spent = self.work.spent
        return spent + max(0, self.work.limit - spent) // SHARE

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


def outline_pricers(rasters: Rasters) -> tuple[Pricer, ...]:
    """Return pricers for outlines, the fastest first."""
    return tuple(_pricer(rasters, answers) for answers in (_foreseen, _drawn, _exchanged))


def _pricer(rasters: Rasters, answers: Callable[[_Question], Iterator[Filled]]) -> Pricer:
    """Return the pricer that takes the best of some answers, the first one at least."""

    def price(prices: Sequence[int], limits: Sequence[int], bed: int, work: Work) -> Priced:
        question = _question(rasters(bed), prices, limits, work)
        best, worth = None, 0
        for found in answers(question):
            value = question.value(found)
            if value > worth:
                best, worth = found, value
            if work.is_over:
                break
        return Priced(Pattern(bed, best.placed) if best else None, worth, None)

    return price


def _question(
    raster: Raster, prices: Sequence[int], limits: Sequence[int], work: Work
) -> _Question:
    areas, room = raster.areas(), raster.width * raster.height
    copies = [
        kind
        for kind, area in enumerate(areas)
        for _ in range(min(limits[kind], room // area) if area else 0)
    ]
    return _Question(raster, prices, areas, copies, work)


def _sorted(copies: Sequence[int], keys: Sequence[int], areas: Sequence[int]) -> list[int]:
    return sorted(copies, key=lambda kind: (-keys[kind], -areas[kind], kind))


def _foreseen(question: _Question) -> Iterator[Filled]:
    for kinds in question.sorted_copies():
        yield foreseen(question.raster, kinds, question.prices, question.work)


def _drawn(question: _Question) -> Iterator[Filled]:
    for wishes in _orders(question):
        yield filled(question.raster, wishes, question.work)


def _orders(question: _Question) -> Iterator[list[Wish]]:
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


class _Held(NamedTuple):
    """An order and what it came to; the first *placed* wishes are those that found room."""

    rank: tuple[int, int]  #: worth, then area
    wishes: list[Wish]
    filled: Filled

    @property
    def placed(self) -> int:
        """The number of parts on the sheet."""
        return len(self.filled.placed)


def _exchanged(question: _Question) -> Iterator[Filled]:
    """Yield better and better answers, changing the best order a little each time."""
    if not question.copies:
        return
    starts = (wishes for wishes, _ in zip(_orders(question), range(STARTS), strict=False))
    held = max((_held(question, wishes) for wishes in starts), key=lambda held: held.rank)
    yield held.filled
    lots, until = Lots(EXCHANGES), question.share_ends()
    for _ in range(EXCHANGES):
        other = _held(question, _changed(held, lots))
        if other.rank >= held.rank:
            held = other
            yield held.filled
        if question.work.spent >= until:
            return


def _held(question: _Question, wishes: list[Wish]) -> _Held:
    found = filled(question.raster, wishes, question.work)
    area = sum(question.areas[box.kind] for box in found.placed)
    outside = set(found.left)
    first = [wish for place, wish in enumerate(wishes) if place not in outside]
    last = [wishes[place] for place in found.left]
    return _Held((question.value(found), area), first + last, found)


def _changed(held: _Held, lots: Lots) -> list[Wish]:
    """Return the order with a part drawn earlier, swapped, or towards another corner."""
    wishes = list(held.wishes)
    first, any_one = lots.below(max(1, held.placed)), lots.below(len(wishes))
    change = lots.below(4)
    if change == 0:
        wishes[first] = wishes[first]._replace(corner=_any_corner(lots))
    elif change == 1:
        wishes[first], wishes[any_one] = wishes[any_one], wishes[first]
    else:
        moved = wishes.pop(any_one)
        corner = moved.corner if change == 2 else _any_corner(lots)
        wishes.insert(lots.below(held.placed + 1), moved._replace(corner=corner))
    return wishes


def _any_corner(lots: Lots) -> Corner:
    return CORNERS[lots.below(len(Corner))]
