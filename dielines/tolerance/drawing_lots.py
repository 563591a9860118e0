"""Books drawn by lot: how much room is left in each, when all errors fall as they may.

Errors are independent and normal. Clearances are linear in them, so that all books
are one product of matrices.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from ..workshop.hand_tools import HandErrors
from .clearance import Clearance, Fault
from .hand_error import HandError, deviations

Numbers = Any
"""An array of numpy, which is loaded where it is needed."""

NEVER = 1e-12  #: a clearance that fails less often is left out: it fails in none of a million books
AT_ONCE = 1000  #: books drawn at once; bounds the memory


@dataclass(frozen=True)
class Lots:
    """The least room (mm) for each kind of fault, in each book that was drawn."""

    draws: int
    rooms: Mapping[Fault, Numbers]

    def failing(self, added: Mapping[Fault, float]) -> int:
        """Return how many books fail by the faults in *added*, with that much more room (mm)."""
        import numpy as np

        failed = np.zeros(self.draws, dtype=bool)
        for fault, more in added.items():
            failed |= self.rooms[fault] + more < 0
        return int(failed.sum())

    def missing(self, fault: Fault, share: float) -> float:
        """Return the room (mm) that has to be added so that fewer than *share* of the books fail."""
        import numpy as np

        allowed = int(share * self.draws)
        return max(0.0, -float(np.sort(self.rooms[fault])[max(0, allowed - 1)]))


def least_rooms(rows: Sequence[Clearance], hand: HandErrors, draws: int, seed: int) -> Lots:
    """Return the least rooms in *draws* books; the same for the same seed."""
    import numpy as np

    kept = [row for row in rows if row.chance(hand) > NEVER]
    nominal, effects = _matrix(kept, hand)
    dice = np.random.Generator(np.random.PCG64(seed))
    found: dict[Fault, list[Numbers]] = {row.fault: [] for row in rows}
    for number in _portions(draws):
        rooms = nominal + dice.standard_normal((number, len(effects))) @ effects
        for fault, least in found.items():
            chosen = [i for i, row in enumerate(kept) if row.fault is fault]
            least.append(rooms[:, chosen].min(axis=1, initial=np.inf))
    return Lots(draws, {fault: np.concatenate(least) for fault, least in found.items()})


def _portions(draws: int) -> Iterator[int]:
    while draws > 0:
        yield min(draws, AT_ONCE)
        draws -= AT_ONCE


def _matrix(rows: Sequence[Clearance], hand: HandErrors) -> tuple[Numbers, Numbers]:
    """Return the nominal rooms, and what a standard deviation of each error does to each."""
    import numpy as np

    usual = deviations(hand)
    numbers: dict[HandError, int] = {}
    for row in rows:
        for error in row.row:
            numbers.setdefault(error, len(numbers))
    effects = np.zeros((len(numbers), len(rows)))
    for column, row in enumerate(rows):
        for error, share in row.row.items():
            effects[numbers[error], column] = share * usual[error.kind]
    return np.array([row.nominal for row in rows]), effects
