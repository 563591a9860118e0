"""Which boxes could share a sheet and be worth most: a programme in whole numbers.

It knows of a sheet what weights by dual feasible functions tell, and which sets of
boxes have been proved not to fit. What it says no set is worth more than is therefore
proved; the set itself may still not fit.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, NamedTuple

from .dual_feasible import Dual, dual_feasible
from .few_boxes import HAIR, Kind, Question, best_of_few
from .lying import Lying
from .master import SCALE
from .order import Work
from .programmes import Answer, Programme, solved, solved_whole

if TYPE_CHECKING:
    from .programmes import Matrix

BRANCHES = 300  #: of one search
FINEST = 10**5  #: of a weight a sheet holds at most so much
AT_ONCE = 4  #: weights taken in at a time
FEW = 8  #: boxes in the best mixture; of sets of more boxes there are too many
PATIENCE = 2  #: after so many questions with too many sets no more are tried one by one
_HAIR = 1e-6  #: so much less than fair is still looked at, as the solver is not exact
_BROKEN = 1e-4  #: weights are taken in where they are exceeded by more; rounding cannot be it


class Chosen(NamedTuple):
    """How many of each kind, what they are worth, and what no set is worth more than."""

    counts: tuple[int, ...]
    value: int
    at_most: int


class _Column(NamedTuple):
    """Boxes of a kind that lie one way."""

    kind: int
    way: Lying


class Weight(NamedTuple):
    """What each column weighs, and how much of it a sheet holds."""

    of: tuple[int, ...]
    held: int


@dataclass
class Knapsack:
    """What is known of one kind of sheet; it learns."""

    size: tuple[int, int]
    ways: Sequence[Sequence[Lying]]
    columns: tuple[_Column, ...] = ()
    widths: tuple[Dual, ...] = ()
    heights: tuple[Dual, ...] = ()
    width_shares: Matrix = field(init=False)  #: the same as shares of their scale, by row
    height_shares: Matrix = field(init=False)
    weights: list[Weight] = field(default_factory=list)
    misfits: list[tuple[int, ...]] = field(default_factory=list)  #: sets that do not fit
    too_many: int = 0  #: how often there were too many sets to look at all of them

    def __post_init__(self) -> None:
        """Work out the functions, once for all kinds and ways."""
        self.columns = tuple(
            _Column(kind, way) for kind, lying in enumerate(self.ways) for way in lying
        )
        self.widths = dual_feasible(self.size[0], [way.width for _, way in self.columns])
        self.heights = dual_feasible(self.size[1], [way.height for _, way in self.columns])
        self.width_shares, self.height_shares = _shares(self.widths), _shares(self.heights)
        if self.columns:
            self._add(0, 0)

    def _add(self, across: int, up: int) -> None:
        wide, high = self.widths[across], self.heights[up]
        both = zip(wide.values, high.values, strict=True)
        self.weights.append(_weight([w * h for w, h in both], wide.scale * high.scale))

    def add_broken(self, mixture: Sequence[float]) -> bool:
        """Take in the weights of which a sheet with *mixture* would hold most; whether any."""
        import numpy as np

        loads = (self.width_shares * np.array(mixture)) @ self.height_shares.T
        highest = loads.max(axis=1).round(9)
        broken = [
            int(across)
            for across in np.argsort(-highest, kind="stable")[:AT_ONCE]
            if highest[across] > 1 + _BROKEN
        ]
        for across in broken:
            self._add(across, int(loads[across].round(9).argmax()))
        return bool(broken)


def _shares(duals: Sequence[Dual]) -> Matrix:
    import numpy as np

    return np.array([[value / dual.scale for value in dual.values] for dual in duals])


def _weight(products: Sequence[int], scale: int) -> Weight:
    """Return whole weights that no set exceeds; finer ones than FINEST are rounded down."""
    shared = math.gcd(scale, *products)
    if scale // shared <= FINEST:
        return Weight(tuple(product // shared for product in products), scale // shared)
    return Weight(tuple(product * FINEST // scale for product in products), FINEST)


def most_valuable(
    sack: Knapsack,
    prices: Sequence[int],
    limits: Sequence[int],
    barred: Sequence[tuple[int, ...]],
    work: Work,
    fair: int = 0,
) -> Chosen:
    """Return the set that is worth most and not known not to fit, *barred* ones left out.

    Sets worth no more than *fair* are not looked for: where there is none worth more,
    the empty set is returned, and that no set is worth more than *fair*.
    """
    if not sack.columns:
        return Chosen((0,) * len(prices), 0, 0)
    mixture = _learn_weights(sack, prices, limits, work)
    most = _raised_up(-mixture.cost)
    if most <= fair:
        return Chosen((0,) * len(prices), 0, fair)
    few = None
    if sum(mixture.numbers[: len(sack.columns)]) < FEW and sack.too_many < PATIENCE:
        few = _best_of_few(sack, prices, limits, barred, mixture, fair, work)
        sack.too_many += few is None
    return few or _best_of_many(sack, prices, limits, barred, most, fair, work)


def _best_of_few(
    sack: Knapsack,
    prices: Sequence[int],
    limits: Sequence[int],
    barred: Sequence[tuple[int, ...]],
    mixture: Answer,
    fair: int,
    work: Work,
) -> Chosen | None:
    """Return the best set by looking at all of them; None where these are too many."""
    import numpy as np

    most = _most_of(sack, prices, limits)
    weights = np.array([weight.of for weight in sack.weights], dtype=np.int64)
    held = np.array([weight.held for weight in sack.weights], dtype=np.int64)
    charges = np.maximum(0, np.array(mixture.savings[: len(held)]))
    losses = charges @ weights - np.array([prices[kind] / SCALE for kind, _ in sack.columns])
    spare = float(charges @ held) + sum(
        -min(0.0, loss) * most[column.kind]
        for loss, column in zip(losses, sack.columns, strict=True)
    )
    kinds = sorted(
        (
            Kind(kind, place, prices[kind], max(0.0, float(losses[place])) * SCALE)
            for place, (kind, _) in enumerate(sack.columns)
            if most[kind]
        ),
        key=lambda one: (round(one.loss), one.column),
    )
    off = np.array([*sack.misfits, *barred], dtype=np.int64).reshape(-1, len(prices))
    columns = [one.column for one in kinds]
    question = Question(
        kinds, most, weights[:, columns], held, off, sack.add_broken, spare * SCALE, fair, work
    )
    if not best_of_few(question, len(sack.columns)):
        return None
    counts = question.found or (0,) * len(prices)
    return Chosen(counts, question.best if question.found else 0, question.best + HAIR)


def _best_of_many(
    sack: Knapsack,
    prices: Sequence[int],
    limits: Sequence[int],
    barred: Sequence[tuple[int, ...]],
    most: int,
    fair: int,
    work: Work,
) -> Chosen:
    """Return the best set, or a good one, by the programme in whole numbers."""
    while True:
        model = _worth_more(_model(sack, prices, limits, (*sack.misfits, *barred)), fair)
        answer = solved_whole(model, BRANCHES, work)
        most = min(most, max(fair, _at_most(answer.bound, most)))
        mixture = answer.numbers or (0,) * len(model.costs)
        if work.is_over or not sack.add_broken(mixture[: len(sack.columns)]):
            break
    counts = [0] * len(prices)
    for column, times in zip(sack.columns, mixture, strict=False):
        counts[column.kind] += times
    value = sum(price * count for price, count in zip(prices, counts, strict=True))
    return Chosen(tuple(counts), value, max(value, most))


def _learn_weights(
    sack: Knapsack, prices: Sequence[int], limits: Sequence[int], work: Work
) -> Answer:
    """Take in weights that mixtures of whole and broken boxes break; return the best mixture.

    No set is worth more.
    """
    while True:
        answer = solved(_model(sack, prices, limits, ()), work)
        if work.is_over or not sack.add_broken(answer.numbers[: len(sack.columns)]):
            return answer


def _model(
    sack: Knapsack,
    prices: Sequence[int],
    limits: Sequence[int],
    barred: Sequence[tuple[int, ...]],
) -> Programme:
    """Return the programme: columns of boxes, then marks for the sets that are ruled out."""
    import numpy as np

    most = _most_of(sack, prices, limits)
    marks = _marks(most, barred)
    blank = [0.0] * len(marks)
    rows: list[list[float]] = [[*weight.of, *blank] for weight in sack.weights]
    right = [float(weight.held) for weight in sack.weights]
    for row, most_of in _counting_rows(sack, most, marks, barred):
        rows.append([row.get(column, 0.0) for column in range(len(sack.columns) + len(marks))])
        right.append(most_of)
    return Programme(
        [-prices[kind] / SCALE for kind, _ in sack.columns] + blank,
        np.array(rows),
        right,
        [float(most[kind]) for kind, _ in sack.columns] + [1.0] * len(marks),
    )


def _counting_rows(
    sack: Knapsack,
    most: Sequence[int],
    marks: dict[tuple[int, int], int],
    barred: Sequence[tuple[int, ...]],
) -> Iterator[tuple[dict[int, float], float]]:
    """Yield rows by column and their right sides: limits, what marks mean, sets ruled out."""
    first = len(sack.columns)
    for kind, count in enumerate(most):
        yield _of_kind(sack, kind), count
    for (kind, count), place in marks.items():
        yield {**_of_kind(sack, kind), first + place: -float(most[kind] - count + 1)}, count - 1
    for misfit in barred:
        pairs = [(kind, count) for kind, count in enumerate(misfit) if count]
        if all(pair in marks for pair in pairs):
            yield {first + marks[pair]: 1.0 for pair in pairs}, len(pairs) - 1


def _most_of(sack: Knapsack, prices: Sequence[int], limits: Sequence[int]) -> list[int]:
    """Return how many of each kind a set can have: none of those that are worth nothing."""
    return [
        min(limit, max((_most_alone(sack.size, way) for way in lying), default=0))
        if price > 0
        else 0
        for price, limit, lying in zip(prices, limits, sack.ways, strict=True)
    ]


def _most_alone(size: tuple[int, int], way: Lying) -> int:
    return size[0] * size[1] // (way.width * way.height)


def _marks(most: Sequence[int], barred: Sequence[tuple[int, ...]]) -> dict[tuple[int, int], int]:
    """Return a column for each "so many of a kind or more" that a barred set speaks of."""
    marks: dict[tuple[int, int], int] = {}
    for misfit in barred:
        pairs = [(kind, count) for kind, count in enumerate(misfit) if count]
        if all(count <= most[kind] for kind, count in pairs):
            for pair in pairs:
                marks.setdefault(pair, len(marks))
    return marks


def _of_kind(sack: Knapsack, kind: int) -> dict[int, float]:
    return {place: 1.0 for place, column in enumerate(sack.columns) if column.kind == kind}


def _at_most(bound: float, most: int) -> int:
    """Return what no set is worth more than by the *bound* on costs; 0 where there is no set."""
    if math.isinf(bound):
        return 0 if bound > 0 else most
    return _raised_up(-bound)


def _worth_more(model: Programme, fair: int) -> Programme:
    """Return the programme for sets that are worth at least *fair*, or nearly."""
    import numpy as np

    if fair <= 0:
        return model
    least = -fair / SCALE * (1 - _HAIR)
    return model._replace(
        rows=np.vstack([model.rows, np.array([model.costs])]), right=[*model.right, least]
    )


def _raised_up(worth: float) -> int:
    """Return *worth* as a whole number, rounded up beyond what the solver may get wrong."""
    return int(worth * SCALE * (1 + 1e-7)) + 1
