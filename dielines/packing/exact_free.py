"""Exact pricing for free placement: which boxes on one sheet are worth most, with proof.

A knapsack programme proposes sets of boxes, the most valuable first. Each is put on
the sheet by fillers, or by a search that tries everything; a set that is proved not
to fit is never proposed again, nor any that holds it.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

from .exact_search import Searched, Verdict, searched
from .free_rectangles import free_rectangle_filler
from .knapsack import Knapsack, most_valuable
from .lying import Ways, ways_to_lie
from .order import Filler, Order, Pattern, Placed, Priced, Pricer, Work
from .pricing import value_of
from .skyline import skyline_filler
from .topping import topped

PROPOSALS = 150  #: sets looked at in one call
OPEN = 6  #: sets that may stay undecided before a call is given up
STATES = 4000  #: staircases looked at for a set
STATES_TO_SHRINK = 400  #: and for each smaller set when one has been proved not to fit


@dataclass
class _Sheet:
    """What has been learnt of one kind of sheet."""

    sack: Knapsack
    known: dict[tuple[int, ...], Searched] = field(default_factory=dict)


def exact_pricer(order: Order) -> Pricer:
    """Return a pricer for free placement whose *at_most* is always proved.

    The pattern is the best there is where the value equals *at_most*; else the search
    was ended by work, or by sets that stayed undecided.
    """
    ways = ways_to_lie(order)
    fillers = (skyline_filler(order), free_rectangle_filler(order))
    sheets: dict[int, _Sheet] = {}

    def price(prices: Sequence[int], limits: Sequence[int], bed: int, work: Work) -> Priced:
        if bed not in sheets:
            size = order.beds[bed].width, order.beds[bed].height
            sheets[bed] = _Sheet(Knapsack(size, ways[bed]))
        return _Pricing(order, ways, fillers, sheets[bed], bed, prices, limits).best(work)

    return price


@dataclass
class _Pricing:
    """One call: the question, and what has been found so far."""

    order: Order
    ways: Ways
    fillers: Sequence[Filler]
    sheet: _Sheet
    bed: int
    prices: Sequence[int]
    limits: Sequence[int]
    barred: list[tuple[int, ...]] = field(default_factory=list)
    open_most: int = 0  #: what the barred sets are worth
    pattern: Pattern | None = None

    def best(self, work: Work) -> Priced:
        """Return the best pattern found, and what none is worth more than."""
        most: int | None = None
        for _ in range(PROPOSALS):
            chosen = most_valuable(self.sheet.sack, self.prices, self.limits, self.barred, work)
            bounded = max(self.open_most, chosen.at_most)
            most = bounded if most is None else min(most, bounded)
            if not any(chosen.counts) or self._settled(chosen.counts, chosen.at_most, work):
                break
            if work.is_over or len(self.barred) >= OPEN:
                break
        value = value_of(self.pattern, self.prices)
        return Priced(self.pattern, value, most)

    def _settled(self, counts: tuple[int, ...], at_most: int, work: Work) -> bool:
        """Look at a set; return whether it fits, so that nothing is better."""
        found = self._looked_up(counts, work)
        self._keep(found.placed, work)
        if found.verdict is Verdict.CANNOT:
            self.sheet.sack.misfits.append(self._shrunk(counts, work))
        elif found.verdict is Verdict.OPEN:
            self.barred.append(counts)
            self.open_most = max(self.open_most, at_most)
        return found.verdict is Verdict.FITS

    def _keep(self, placed: tuple[Placed, ...], work: Work) -> None:
        pattern = topped(self.order, Pattern(self.bed, placed), self.limits, work)
        if value_of(pattern, self.prices) > value_of(self.pattern, self.prices):
            self.pattern = pattern

    def _looked_up(self, counts: tuple[int, ...], work: Work) -> Searched:
        if counts not in self.sheet.known:
            self.sheet.known[counts] = self._tried(counts, work)
        return self.sheet.known[counts]

    def _tried(self, counts: tuple[int, ...], work: Work) -> Searched:
        """Return whether the set fits: by fillers, which is fast, or by the search."""
        boxes = self.order.boxes
        best: tuple[Placed, ...] = ()
        keys: tuple[Callable[[int], int], ...] = (
            lambda kind: -boxes[kind].area,
            lambda kind: -max(boxes[kind][:2]),
        )
        for key in keys:
            kinds = sorted((k for k, n in enumerate(counts) for _ in range(n)), key=key)
            for filler in self.fillers:
                found = filler(kinds, self.bed, work)
                if not found.left:
                    return Searched(Verdict.FITS, found.placed)
                best = max(best, found.placed, key=len)
        exact = self._searched(counts, STATES, work)
        return Searched(Verdict.OPEN, best) if exact.verdict is Verdict.OPEN else exact

    def _searched(self, counts: Sequence[int], states: int, work: Work) -> Searched:
        return searched(self.sheet.sack.size, self.ways[self.bed], counts, states, work)

    def _shrunk(self, counts: tuple[int, ...], work: Work) -> tuple[int, ...]:
        """Return a smaller set that is proved not to fit either, so that more is ruled out."""
        for kind in range(len(counts)):
            while counts[kind]:
                fewer = (*counts[:kind], counts[kind] - 1, *counts[kind + 1 :])
                found = self._searched(fewer, STATES_TO_SHRINK, work)
                if found.verdict is not Verdict.CANNOT:
                    break
                counts = fewer
        return counts
