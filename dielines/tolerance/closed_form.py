"""How likely each kind of fault is, without drawing: cheap, and a little too kind.

Pages that hang on each other stick out together, so of these the likeliest alone is
counted; tapes of different parts miss by themselves, so theirs are multiplied. Both
are at most as many as fail in truth.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterable
from typing import NamedTuple

from ..workshop.hand_tools import HandErrors
from .clearance import Clearance, Fault
from .hand_error import below_zero

HALVINGS = 40  #: of the room in question; what is left of it is far below a micrometre
MOST_DEVIATIONS = 8.0  #: room of so many standard deviations is enough for any book


class _Rest(NamedTuple):
    """What the chance of a row hangs on; rows of one *owner* fail together."""

    owner: str
    nominal: float
    deviation: float


def chance_of(rows: Iterable[Clearance], hand: HandErrors) -> float:
    """Return how many books fail by *rows*, all of one kind; 0 to 1."""
    return _chance(_rests(rows, hand), 0.0)


def room_needed(rows: Iterable[Clearance], hand: HandErrors, few: float) -> float:
    """Return how much more room (mm) leaves fewer than *few* (a share) that fail by *rows*."""
    rests = _rests(rows, hand)
    low, high = 0.0, max(MOST_DEVIATIONS * rest.deviation - rest.nominal for rest in rests)
    for _ in range(HALVINGS):
        middle = (low + high) / 2
        if _chance(rests, middle) < few:
            high = middle
        else:
            low = middle
    return max(high, 0.0)


def _rests(rows: Iterable[Clearance], hand: HandErrors) -> list[_Rest]:
    return [
        _Rest(row.part if row.fault is Fault.TAPE else "", row.nominal, row.deviation(hand))
        for row in rows
    ]


def _chance(rests: Iterable[_Rest], more: float) -> float:
    by_owner: dict[str, float] = defaultdict(float)
    for owner, nominal, deviation in rests:
        by_owner[owner] = max(by_owner[owner], below_zero(nominal + more, deviation))
    return 1 - math.prod(1 - chance for chance in by_owner.values())
