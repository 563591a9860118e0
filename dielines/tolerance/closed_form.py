"""How likely each kind of fault is, without drawing: cheap, and a little too kind.

Pages that hang on each other stick out together, so of these the likeliest alone is
counted; tapes of different parts miss by themselves, so theirs are multiplied. Both
are at most as many as fail in truth.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterable, Sequence

from ..workshop.hand_tools import HandErrors
from .clearance import Clearance, Fault

HALVINGS = 40  #: of the room in question; what is left of it is far below a micrometre
MOST_DEVIATIONS = 8.0  #: room of so many standard deviations is enough for any book


def chance_of(rows: Iterable[Clearance], hand: HandErrors, more: float = 0.0) -> float:
    """Return how many books fail by *rows*, of one kind, with *more* room in each; 0 to 1."""
    by_part: dict[str, float] = defaultdict(float)
    for row in rows:
        key = row.part if row.fault is Fault.TAPE else ""
        by_part[key] = max(by_part[key], row.chance_with(hand, more))
    return 1 - math.prod(1 - chance for chance in by_part.values())


def room_needed(rows: Sequence[Clearance], hand: HandErrors, few: float) -> float:
    """Return how much more room (mm) leaves fewer than *few* (a share) that fail by *rows*."""
    low, high = 0.0, max(MOST_DEVIATIONS * row.deviation(hand) - row.nominal for row in rows)
    for _ in range(HALVINGS):
        middle = (low + high) / 2
        if chance_of(rows, hand, middle) < few:
            high = middle
        else:
            low = middle
    return max(high, 0.0)
