"""How likely a book fails by the errors of the hand, how sure that is, and what would help."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from ..folding.folded_book import FoldedBook
from ..lengths import Length
from ..workshop.hand_tools import HandErrors
from .clearance import Clearance, Fault
from .clearances import clearances_of
from .datum import Datum
from .drawing_lots import Lots, least_rooms
from .remedies import FEW, SIZE_OF, enlarged

DRAWS = 10_000
SEED = 1  #: any other number would do as well; the same seed gives the same books
MOST_DRAWS = 1_000_000


@dataclass(frozen=True, slots=True)
class Estimate:
    """A share of books, 0 to 1, counted in *draws* books that a hand might have made."""

    count: int
    draws: int

    @property
    def share(self) -> float:
        """The share that was counted."""
        return self.count / self.draws

    @property
    def error(self) -> float:
        """Its standard error: that of a binomial share."""
        return math.sqrt(self.share * (1 - self.share) / self.draws)


@dataclass(frozen=True)
class Outcome:
    """How many books have a fault of any kind, a page that sticks out, a fault of each kind."""

    any_fault: Estimate
    sticking_out: Estimate  #: a page at its fore-edge, head or tail
    by_fault: Mapping[Fault, Estimate]


@dataclass(frozen=True, slots=True)
class Change:
    """A size that leaves fewer than a twentieth of the books with one kind of fault.

    *setting* and *value* are as ``--set`` takes them, *by* is what is added;
    *left* are the books with any fault afterwards.
    """

    fault: Fault
    setting: str
    value: Length
    by: Length
    left: Estimate


@dataclass(frozen=True)
class Tolerance:
    """What the errors of the hand do to a book."""

    hand: HandErrors
    draws: int
    seed: int
    clearances: tuple[Clearance, ...]
    by_datum: Mapping[Datum, Outcome]  #: how the book fares when pages are aligned so
    changes: tuple[Change, ...]  #: sizes, the one that helps most first

    @property
    def usual(self) -> Outcome:
        """How the book fares when each page is aligned to its neighbour."""
        return self.by_datum[Datum.NEIGHBOUR]

    def worst(self, fault: Fault) -> Clearance | None:
        """Return the clearance that has this fault most often, None where there is none."""
        found = [c for c in self.clearances if c.fault is fault]
        return max(found, key=lambda c: c.chance(self.hand), default=None)


def tolerance_of(folded: FoldedBook, draws: int = DRAWS, seed: int = SEED) -> Tolerance:
    """Return how likely the book fails, by *draws* books drawn from *seed*; the same every time.

    Raises ValueError where *draws* is not between 1 and a million.
    """
    if not 1 <= draws <= MOST_DRAWS:
        raise ValueError(f"draws must be 1 to {MOST_DRAWS}, not {draws}")
    hand = folded.workshop.hand
    sets = {datum: clearances_of(folded, datum) for datum in Datum}
    lots = {datum: least_rooms(rows, hand, draws, seed) for datum, rows in sets.items()}
    outcomes = {datum: _outcome(drawn) for datum, drawn in lots.items()}
    usual = Datum.NEIGHBOUR
    changes = _changes(folded, lots[usual], outcomes[usual])
    return Tolerance(hand, draws, seed, sets[usual], outcomes, changes)


def _outcome(lots: Lots) -> Outcome:
    def failing(faults: Iterable[Fault]) -> Estimate:
        return Estimate(lots.failing(dict.fromkeys(faults, 0.0)), lots.draws)

    by_fault = {fault: failing([fault]) for fault in lots.rooms}
    pages = [fault for fault in lots.rooms if fault.is_of_page]
    return Outcome(failing(by_fault), failing(pages), by_fault)


def _changes(folded: FoldedBook, lots: Lots, outcome: Outcome) -> tuple[Change, ...]:
    found = []
    for fault, estimate in outcome.by_fault.items():
        if estimate.share < FEW:
            continue
        larger = enlarged(folded.book, fault, lots.missing(fault, FEW))
        if larger:
            by = larger.by.mm / SIZE_OF[fault].for_each
            added = {other: float(by) * (other is fault) for other in lots.rooms}
            left = Estimate(lots.failing(added), lots.draws)
            found.append(Change(fault, larger.setting, larger.value, larger.by, left))
    return tuple(sorted(found, key=lambda change: change.left.count))
