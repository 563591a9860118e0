"""Exact pricing for free placement: which boxes on one sheet are worth most, with proof.

A knapsack programme proposes sets of boxes, the most valuable first. Each is put on
the sheet by fillers, or by a search that tries everything; a set that is proved not
to fit is never proposed again, nor any that holds it.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from typing import NamedTuple

from .exact_search import Searched, Verdict, searched
from .free_rectangles import free_rectangle_filler
from .knapsack import Chosen, Knapsack, most_valuable
from .lying import Ways, ways_to_lie
from .order import Filler, Order, Pattern, Placed, Priced, Work
from .pricing import value_of
from .skyline import skyline_filler
from .topping import topped

PROPOSALS = 150  #: sets looked at in one call
OPEN = 6  #: sets that may stay undecided before a call is given up
STATES = 4000  #: staircases looked at for a set
STATES_OF_A_PROPOSAL = 300  #: and where it is only proposed
STATES_TO_SHRINK = 400  #: and for each smaller set when one has been proved not to fit


class Proposal(NamedTuple):
    """A set of boxes, and how it lies on a sheet if that was found."""

    chosen: Chosen
    pattern: Pattern | None


@dataclass
class _Sheet:
    """What has been learnt of one kind of sheet."""

    sack: Knapsack
    #: by set, how many staircases were looked at and what came of it
    known: dict[tuple[int, ...], tuple[int, Searched]] = field(default_factory=dict)


class ExactPricer:
    """A pricer for free placement whose *at_most* is always proved.

    The pattern is the best there is where its value equals *at_most*; else the search
    was ended by work, or by sets that stayed undecided.
    """

    def __init__(self, order: Order, misfits: Sequence[tuple[int, ...]] = ()) -> None:
        self._order = order
        self._misfits = misfits
        self._ways = ways_to_lie(order)
        self._fillers = (skyline_filler(order), free_rectangle_filler(order))
        self._sheets: dict[int, _Sheet] = {}

    def __call__(
        self, prices: Sequence[int], limits: Sequence[int], bed: int, work: Work
    ) -> Priced:
        """Return the best pattern, as a Pricer does."""
        return self._pricing(prices, limits, bed).best(work)

    def proposed(
        self, prices: Sequence[int], limits: Sequence[int], bed: int, fair: int, work: Work
    ) -> Proposal:
        """Return the set of boxes worth most that is not known not to fit, if it is worth *fair*."""
        return self._pricing(prices, limits, bed).proposal(fair, work)

    def _sheet(self, bed: int) -> _Sheet:
        if bed not in self._sheets:
            size = self._order.beds[bed].width, self._order.beds[bed].height
            self._sheets[bed] = _Sheet(Knapsack(size, self._ways[bed], misfits=list(self._misfits)))
        return self._sheets[bed]

    def _pricing(self, prices: Sequence[int], limits: Sequence[int], bed: int) -> _Pricing:
        sheet = self._sheet(bed)
        return _Pricing(self._order, self._ways, self._fillers, sheet, bed, prices, limits)


def exact_pricer(order: Order, misfits: Sequence[tuple[int, ...]] = ()) -> ExactPricer:
    """Return a pricer for free placement whose *at_most* is always proved.

    *misfits* are sets, as how many of each kind, that are known to fit no sheet: such as
    parts whose outlines get into each other's way where rectangles inside them do not.
    """
    return ExactPricer(order, misfits)


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

    def proposal(self, fair: int, work: Work) -> Proposal:
        """Return the best set that is not found not to fit with little work."""
        while True:
            chosen = most_valuable(self.sheet.sack, self.prices, self.limits, (), work, fair)
            if not any(chosen.counts):
                return Proposal(chosen, None)
            found = self._looked_up(chosen.counts, STATES_OF_A_PROPOSAL, work)
            if found.verdict is not Verdict.CANNOT or work.is_over:
                break
            self.sheet.sack.misfits.append(self._shrunk(chosen.counts, work))
        if found.verdict is Verdict.OPEN:
            return Proposal(chosen, None)
        pattern = Pattern(self.bed, found.placed)
        return Proposal(chosen, topped(self.order, pattern, self.limits, work))

    def _settled(self, counts: tuple[int, ...], at_most: int, work: Work) -> bool:
        """Look at a set; return whether it fits, so that nothing is better."""
        found = self._looked_up(counts, STATES, work)
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

    def _looked_up(self, counts: tuple[int, ...], states: int, work: Work) -> Searched:
        """Return what is known of a set; an open one is tried again where more is allowed."""
        before, found = self.sheet.known.get(counts, (0, Searched(Verdict.OPEN)))
        if found.verdict is Verdict.OPEN and before < states:
            found = self._tried(counts, states, work)
            self.sheet.known[counts] = states, found
        return found

    def _tried(self, counts: tuple[int, ...], states: int, work: Work) -> Searched:
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
        exact = self._searched(counts, states, work)
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
