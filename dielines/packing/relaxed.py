"""The best bound that weights of boxes can prove: patterns of which nobody knows how they lie.

The linear programme runs over sets of boxes that are not known not to fit a sheet.
Every real pattern is among them, so its value is no more than that over patterns.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple, Protocol, runtime_checkable

from .exact_free import Proposal
from .master import Column, Prices, cost, is_better, priced
from .order import Order, Pattern, Priced, Work
from .proof import proved_price


@runtime_checkable
class Proposer(Protocol):
    """A pricer that proposes sets of boxes as well, which may or may not fit a sheet."""

    def __call__(
        self, prices: Sequence[int], limits: Sequence[int], bed: int, work: Work
    ) -> Priced:
        """Return the best pattern found, and what none is worth more than."""
        ...

    def proposed(
        self, prices: Sequence[int], limits: Sequence[int], bed: int, fair: int, work: Work
    ) -> Proposal:
        """Return the set worth most that is not known not to fit, if it is worth *fair*."""
        ...


class Relaxed(NamedTuple):
    """A proved bound, and the patterns that were come across."""

    bound: int
    patterns: tuple[Pattern, ...]


def relaxed(
    order: Order, proposer: Proposer, start: Sequence[Column], bound: int, work: Work
) -> Relaxed:
    """Return a price below which no plan can be, at least *bound*.

    *start*: columns that cover the order.
    """
    columns, patterns = list(start), list[Pattern]()
    while not work.is_over:
        prices = priced(order, columns, work)
        answers = [_answer(order, proposer, prices, bed, work) for bed in range(len(order.beds))]
        at_most = [answer.chosen.at_most for answer in answers]
        bound = max(bound, proved_price(order, prices.boxes, at_most))
        patterns += [answer.pattern for answer in answers if answer.pattern]
        better = [
            Column(bed, answer.chosen.counts)
            for bed, answer in enumerate(answers)
            if _is_better(order, prices, bed, answer)
        ]
        if not better:
            break
        columns += better
    return Relaxed(bound, tuple(patterns))


def _is_better(order: Order, prices: Prices, bed: int, answer: Proposal) -> bool:
    fair = cost(order, bed) + prices.rents[bed]
    return is_better(answer.chosen.value, sum(answer.chosen.counts), fair)


def _answer(order: Order, proposer: Proposer, prices: Prices, bed: int, work: Work) -> Proposal:
    fair = cost(order, bed) + prices.rents[bed]
    return proposer.proposed(prices.boxes, order.counts, bed, fair, work)
