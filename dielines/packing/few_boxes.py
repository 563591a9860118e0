"""The most valuable set of boxes for a sheet that holds few: all sets, but those ruled out.

From the programme with fractions comes what each box loses against the best mixture.
A set that loses more than lies between that mixture and the best set so far is not
looked at, nor is any that holds it.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple

from .order import Work

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Whole = NDArray[np.int64]
    Rates = NDArray[np.float64]

MOST_SETS = 30_000  #: that are looked at
HAIR = 2  #: a set must be worth more by this, as losses are not exact
_SET = 8  #: work of looking at a set


class Kind(NamedTuple):
    """A column: boxes of a kind that lie one way, their price, and what one of them loses."""

    kind: int
    column: int
    price: int
    loss: float


@dataclass
class Question:
    """What is asked, and the best that has been found.

    *kinds* ascend in what they lose. *weights* of a box by row and kind, *room* for
    them; *misfits* by row are sets that do not fit; *is_broken* says whether a mixture of
    all columns is too heavy by any weight. *spare* is what the best mixture is worth.
    """

    kinds: Sequence[Kind]
    limits: Sequence[int]
    weights: Whole
    room: Whole
    misfits: Whole
    is_broken: Callable[[Sequence[float]], bool]
    spare: float
    best: int
    work: Work
    found: tuple[int, ...] = ()
    looked_at: int = 0


class _Set(NamedTuple):
    """Boxes, by kind and by column; the room that they leave, their worth and their loss."""

    counts: tuple[int, ...]
    mixture: tuple[int, ...]
    room: Whole
    worth: int
    loss: float

    def with_one(self, kind: Kind, weights: Whole) -> _Set:
        """Return the set with one box more."""
        return _Set(
            _one_more(self.counts, kind.kind),
            _one_more(self.mixture, kind.column),
            self.room - weights,
            self.worth + kind.price,
            self.loss + kind.loss,
        )


def _one_more(counts: tuple[int, ...], place: int) -> tuple[int, ...]:
    return (*counts[:place], counts[place] + 1, *counts[place + 1 :])


def best_of_few(question: Question, columns: int) -> bool:
    """Look at all sets; return False where there are too many, and nothing is known then."""
    empty = _Set((0,) * len(question.limits), (0,) * columns, question.room, 0, 0.0)
    return _look(question, _best_rates(question), 0, empty)


def _best_rates(question: Question) -> Rates:
    """Return, by weight and for the kinds from each place on, what the most for a weight is."""
    import numpy as np

    prices = np.array([float(kind.price) for kind in question.kinds])
    with np.errstate(divide="ignore"):
        rates = np.where(question.weights > 0, prices / np.maximum(question.weights, 1), np.inf)
    best: Rates = np.maximum.accumulate(rates[:, ::-1], axis=1)[:, ::-1]
    return best


def _look(question: Question, rates: Rates, first: int, before: _Set) -> bool:
    """Look at the sets that hold *before* and more boxes, of the kinds from *first* on."""
    for place in range(first, len(question.kinds)):
        kind = question.kinds[place]
        if question.spare - before.loss - kind.loss <= question.best + HAIR:
            break  # the kinds lose more and more
        if before.counts[kind.kind] >= question.limits[kind.kind]:
            continue
        question.looked_at += 1
        question.work.spend(_SET)
        if question.looked_at > MOST_SETS or question.work.is_over:
            return False
        now = before.with_one(kind, question.weights[:, place])
        if _is_worth_while(question, rates, place, now) and not _look(question, rates, place, now):
            return False
    return True


def _is_worth_while(question: Question, rates: Rates, place: int, now: _Set) -> bool:
    """Return whether a set may fit, and more boxes may make it the best; keep it if it is."""
    import numpy as np

    if now.room.min() < 0:
        return False
    most = np.min(
        now.room * 1.0 * np.minimum(rates[:, place], 1e12), where=now.room > 0, initial=1e18
    )
    if now.worth + most * (1 + 1e-9) < question.best:
        return False
    if (question.misfits <= np.array(now.counts)).all(axis=1).any():
        return False
    if now.worth > question.best:
        if question.is_broken(now.mixture):
            return False
        question.best, question.found = now.worth, now.counts
    return True
