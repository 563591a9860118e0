"""One clearance of a book: how much room there is as drawn, and what the hand does to it."""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import Enum

from ..workshop.hand_tools import HandErrors
from .hand_error import ErrorKind, HandError, Row, below_zero, deviations, variance


class Fault(Enum):
    """What is wrong where a clearance is below 0; each has sizes of its own that mend it."""

    FORE_EDGE = "a page sticks out at the fore-edge"
    HEAD_OR_TAIL = "a page sticks out at head or tail"
    SPINE = "the pages do not fit the spine"
    TAPE = "tape misses what it goes onto"

    @property
    def is_of_page(self) -> bool:
        """Whether it is that a page sticks out of its boards."""
        return self in (Fault.FORE_EDGE, Fault.HEAD_OR_TAIL)


@dataclass(frozen=True)
class Clearance:
    """Room between two edges: *nominal* as drawn, mm; below 0 is a fault.

    *part* and *panel* say where; *edge* is the fore-edge, head or tail of a page, the
    side of what tape goes onto, or empty for the spine.
    """

    fault: Fault
    part: str
    panel: str
    edge: str
    nominal: float
    row: Row

    def deviation(self, hand: HandErrors) -> float:
        """Return its standard deviation, mm."""
        return math.sqrt(variance(self.row, hand))

    def chance(self, hand: HandErrors) -> float:
        """Return how likely it is below 0, from 0 to 1; closed form for normal errors."""
        return below_zero(self.nominal, self.deviation(hand))

    def shares(self, hand: HandErrors) -> dict[HandError, float]:
        """Return each error's share of the variance, the largest first; together 1."""
        whole = variance(self.row, hand) or 1.0
        usual = deviations(hand)
        found = {e: (c * usual[e.kind]) ** 2 / whole for e, c in self.row.items()}
        return dict(sorted(found.items(), key=lambda item: (-round(item[1], 9), item[0][1:])))

    def shares_by_kind(self, hand: HandErrors) -> dict[ErrorKind, float]:
        """Return what cutting, scoring and taping have of the variance."""
        shares = self.shares(hand)
        return {
            kind: math.fsum(s for e, s in shares.items() if e.kind is kind) for kind in ErrorKind
        }
