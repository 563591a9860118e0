"""Patterns made to measure: the linear programme says what boxes are worth, pricers answer.

Column generation. The bound is proved where a pricer says what no pattern is worth
more than; patterns that fillers found alone prove nothing.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from .first_answer import sheets_alone
from .master import Prices, columns_of, cost, is_better, priced
from .order import Filler, Method, Order, Pattern, Pricer, Work
from .pricing import better_patterns
from .proof import next_price, proved_price
from .relaxed import Proposer, relaxed


@dataclass(frozen=True)
class Generated:
    """What has been found: all patterns, the last prices, and the proved bound."""

    patterns: tuple[Pattern, ...]
    prices: Prices
    bound: int


@dataclass
class _Search:
    """The patterns so far, and the best bound."""

    order: Order
    fillers: tuple[Filler, ...]
    pricers: tuple[Pricer, ...]
    patterns: list[Pattern]
    bound: int


def generated(
    order: Order, method: Method, start: Sequence[Pattern], bound: int, work: Work
) -> Generated:
    """Return patterns whose mixture is best, begun with *start*, which must cover the order."""
    fast, proposers = _parted(method.pricers)
    search = _Search(order, method.fillers, tuple(fast), [*start, *sheets_alone(order)], bound)
    prices = _improved(search, work)
    for proposer in proposers:
        if _is_met(search, prices) or work.is_over:
            break
        columns = columns_of(order, search.patterns)
        answer = relaxed(order, proposer, columns, search.bound, work)
        search.bound = answer.bound
        search.patterns += answer.patterns
        search.pricers = (*search.pricers, proposer)
        prices = _improved(search, work)
    return Generated(tuple(search.patterns), prices, search.bound)


def quickly_generated(
    order: Order, method: Method, start: Sequence[Pattern], work: Work
) -> Generated:
    """Return patterns whose mixture is good, without the pricers that prove what is best."""
    fast, _ = _parted(method.pricers)
    search = _Search(order, method.fillers, tuple(fast), [*start, *sheets_alone(order)], 0)
    prices = _improved(search, work)
    return Generated(tuple(search.patterns), prices, search.bound)


def _parted(pricers: Sequence[Pricer]) -> tuple[list[Pricer], list[Proposer]]:
    """Return the pricers that know patterns only, and those that know sets as well."""
    fast: list[Pricer] = []
    proposers: list[Proposer] = []
    for pricer in pricers:
        if isinstance(pricer, Proposer):
            proposers.append(pricer)
        else:
            fast.append(pricer)
    return fast, proposers


def _improved(search: _Search, work: Work) -> Prices:
    """Add patterns until no pricer finds a better one, or the bound is met; return the prices."""
    while True:
        prices = priced(search.order, columns_of(search.order, search.patterns), work)
        if work.is_over or _is_met(search, prices):
            return prices
        known = set(columns_of(search.order, search.patterns))
        found = _better(search, prices, work)
        if known.issuperset(columns_of(search.order, found)):
            return prices
        search.patterns += found


def _is_met(search: _Search, prices: Prices) -> bool:
    """Return whether whole sheets cannot cost less than the mixture, rounded up."""
    return next_price(search.order, _up(prices.value)) <= search.bound


def _up(value: float) -> int:
    """Return *value* rounded up, but for what the solver got wrong by a hair."""
    return -int(-(value - 1e-6 * max(1.0, value)) // 1)


def _better(search: _Search, prices: Prices, work: Work) -> list[Pattern]:
    """Return patterns that are worth more than their sheets; raise the bound."""
    found: list[Pattern] = []
    at_most: list[int | None] = []
    for bed in range(len(search.order.beds)):
        patterns, most = _asked(search, prices, bed, work)
        found += patterns
        at_most.append(most)
    known = [most for most in at_most if most is not None]
    if len(known) == len(at_most):
        search.bound = max(search.bound, proved_price(search.order, prices.boxes, known))
    return found


def _asked(
    search: _Search, prices: Prices, bed: int, work: Work
) -> tuple[list[Pattern], int | None]:
    """Ask the fillers, then one pricer after the other; return better patterns, what is proved."""
    order, fair = search.order, cost(search.order, bed) + prices.rents[bed]
    if order.beds[bed].at_most == 0:
        return [], 0
    found = better_patterns(order, search.fillers, bed, prices.boxes, fair, work)
    if found:
        return found, None
    most: int | None = None
    for pricer in search.pricers:
        if work.is_over:
            break
        answer = pricer(prices.boxes, order.counts, bed, work)
        if answer.at_most is not None:
            most = answer.at_most if most is None else min(most, answer.at_most)
        pattern = answer.pattern
        if pattern and is_better(answer.value, len(pattern.placed), fair):
            return [pattern], most
        if most is not None and not is_better(most, 0, fair):
            break
    return [], most
