"""Pricers for sheets of outlines: by foresight, by lot, then by patient exchange.

The cheapest comes first; the next is asked when it finds nothing better. None of
them proves what no sheet is worth more than.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from ..order import Filled, Pattern, Priced, Pricer, Work
from .exchange import exchanged
from .filler import filled
from .foresight import foreseen
from .question import Question, orders, question_of
from .raster import Rasters


def outline_pricers(rasters: Rasters) -> tuple[Pricer, ...]:
    """Return pricers for outlines, the fastest first."""
    return tuple(_pricer(rasters, answers) for answers in (_foreseen, _drawn, exchanged))


def _pricer(rasters: Rasters, answers: Callable[[Question], Iterator[Filled]]) -> Pricer:
    """Return the pricer that takes the best of some answers, the first one at least."""

    def price(prices: Sequence[int], limits: Sequence[int], bed: int, work: Work) -> Priced:
        question = question_of(rasters(bed), prices, limits, work)
        best, worth = None, 0
        for found in answers(question):
            value = question.value(found)
            if value > worth:
                best, worth = found, value
            if work.is_over:
                break
        return Priced(Pattern(bed, best.placed) if best else None, worth, None)

    return price


def _foreseen(question: Question) -> Iterator[Filled]:
    for kinds in question.sorted_copies():
        yield foreseen(question.raster, kinds, question.prices, question.work)


def _drawn(question: Question) -> Iterator[Filled]:
    for wishes in orders(question):
        yield filled(question.raster, wishes, question.work)
