"""How likely a book fails by the errors of the hand, how sure that is, and what would help."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from ..lengths import Length
from ..workshop.hand_tools import HandErrors
from .clearance import Clearance, Fault
from .datum import Datum


@dataclass(frozen=True, slots=True)
class Estimate:
    """A share of books, from 0 to 1, found by *draws* books; *error* is its standard error."""

    share: float
    draws: int

    @property
    def error(self) -> float:
        """The standard error of a share of independent draws (binomial)."""
        return float((self.share * (1 - self.share) / self.draws) ** 0.5)


@dataclass(frozen=True, slots=True)
class Change:
    """A size that would leave few faults of one kind: *setting* as ``--set`` takes it."""

    fault: Fault
    setting: str
    value: Length
    by: Length


@dataclass(frozen=True)
class Tolerance:
    """What the errors of the hand do to a book."""

    hand: HandErrors
    seed: int
    clearances: tuple[Clearance, ...]
    any_fault: Estimate
    by_fault: Mapping[Fault, Estimate]
    by_datum: Mapping[Datum, Estimate]  #: any fault, when pages are aligned so
    changes: tuple[Change, ...]  #: sizes, the one that helps most first

    def worst(self, fault: Fault) -> Clearance | None:
        """Return the clearance of this kind that fails most often, None where there is none."""
        found = [c for c in self.clearances if c.fault is fault]
        return max(found, key=lambda c: c.chance(self.hand), default=None)
