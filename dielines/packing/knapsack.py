"""Which boxes could share a sheet and be worth most: a programme in whole numbers.

It knows of a sheet what weights by dual feasible functions tell, and which sets of
boxes have been proved not to fit. What it says no set is worth more than is therefore
proved; the set itself may still not fit.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any, NamedTuple

from .dual_feasible import Dual, dual_feasible
from .lying import Lying
from .master import SCALE
from .order import Work

NODES = 300  #: branches of one search
_FINENESS = 10**7  #: weights are rounded down to this part of a sheet
_BROKEN = 1e-5  #: weights are taken in where they are exceeded by more; rounding cannot be it
_STEPS = 6000  #: work of one programme, for each row, and for each branch
_ROW = 200
_NODE = 1000


class Chosen(NamedTuple):
    """How many of each kind, what they are worth, and what no set is worth more than."""

    counts: tuple[int, ...]
    value: int
    at_most: int


class _Column(NamedTuple):
    """Boxes of a kind that lie one way."""

    kind: int
    way: Lying


@dataclass
class Knapsack:
    """What is known of one kind of sheet; it learns."""

    size: tuple[int, int]
    ways: Sequence[Sequence[Lying]]
    columns: tuple[_Column, ...] = ()
    widths: tuple[Dual, ...] = ()
    heights: tuple[Dual, ...] = ()
    weights: list[tuple[float, ...]] = field(default_factory=list)  #: of which a sheet holds 1
    misfits: list[tuple[int, ...]] = field(default_factory=list)  #: sets that do not fit

    def __post_init__(self) -> None:
        """Work out the functions, once for all kinds and ways."""
        self.columns = tuple(
            _Column(kind, way) for kind, lying in enumerate(self.ways) for way in lying
        )
        self.widths = dual_feasible(self.size[0], [way.width for _, way in self.columns])
        self.heights = dual_feasible(self.size[1], [way.height for _, way in self.columns])
        if self.columns:
            self._add(0, 0)

    def _add(self, across: int, up: int) -> None:
        wide, high = self.widths[across], self.heights[up]
        scale = wide.scale * high.scale
        both = zip(wide.values, high.values, strict=True)
        self.weights.append(tuple((w * h * _FINENESS // scale) / _FINENESS for w, h in both))

    def add_broken(self, mixture: Sequence[float]) -> bool:
        """Take in the weights of which a sheet with *mixture* would hold most; whether any."""
        import numpy as np

        wide = np.array([[v / dual.scale for v in dual.values] for dual in self.widths])
        high = np.array([[v / dual.scale for v in dual.values] for dual in self.heights])
        loads = (wide * np.array(mixture)) @ high.T
        worst = int(loads.round(9).argmax())
        if loads.flat[worst] <= 1 + _BROKEN:
            return False
        self._add(*divmod(worst, len(self.heights)))
        return True


def most_valuable(
    sack: Knapsack,
    prices: Sequence[int],
    limits: Sequence[int],
    barred: Sequence[tuple[int, ...]],
    work: Work,
) -> Chosen:
    """Return the set that is worth most and not known not to fit, *barred* ones left out."""
    if not sack.columns:
        return Chosen((0,) * len(prices), 0, 0)
    most = _learn_weights(sack, prices, limits, work)
    while True:
        model = _model(sack, prices, limits, (*sack.misfits, *barred))
        mixture, whole_most = _solved(model, True, work)
        most = min(most, whole_most)
        if work.is_over or not sack.add_broken(mixture[: len(sack.columns)]):
            break
    counts = [0] * len(prices)
    for column, times in zip(sack.columns, mixture, strict=False):
        counts[column.kind] += round(times)
    value = sum(price * count for price, count in zip(prices, counts, strict=True))
    return Chosen(tuple(counts), value, max(value, most))


def _learn_weights(sack: Knapsack, prices: Sequence[int], limits: Sequence[int], work: Work) -> int:
    """Take in weights that mixtures of whole and broken boxes break; return what these are worth.

    No mixture, so no set, is worth more.
    """
    while True:
        mixture, most = _solved(_model(sack, prices, limits, ()), False, work)
        if work.is_over or not sack.add_broken(mixture[: len(sack.columns)]):
            return most


class _Model(NamedTuple):
    """Worth of each column, upper limits, and rows that must be at most their right side."""

    worth: list[float]
    upper: list[float]
    rows: list[list[float]]
    right: list[float]


def _model(
    sack: Knapsack,
    prices: Sequence[int],
    limits: Sequence[int],
    barred: Sequence[tuple[int, ...]],
) -> _Model:
    most = [
        min(limit, max((_most_alone(sack.size, way) for way in lying), default=0))
        if price > 0
        else 0
        for price, limit, lying in zip(prices, limits, sack.ways, strict=True)
    ]
    marks = _marks(most, barred)
    columns = len(sack.columns) + len(marks)
    model = _Model(
        [prices[kind] / SCALE for kind, _ in sack.columns] + [0.0] * len(marks),
        [float(most[kind]) for kind, _ in sack.columns] + [1.0] * len(marks),
        [[*row, *[0.0] * len(marks)] for row in sack.weights],
        [1.0] * len(sack.weights),
    )
    for kind, count in enumerate(most):
        _add_row(model, columns, _of_kind(sack, kind), count)
    for place, (kind, count) in enumerate(marks):
        mark = {len(sack.columns) + place: -float(most[kind] - count + 1)}
        _add_row(model, columns, {**_of_kind(sack, kind), **mark}, count - 1)
    for misfit in barred:
        pairs = [(kind, count) for kind, count in enumerate(misfit) if count]
        if all(pair in marks for pair in pairs):
            row = {len(sack.columns) + marks[pair]: 1.0 for pair in pairs}
            _add_row(model, columns, row, len(pairs) - 1)
    return model


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


def _add_row(model: _Model, columns: int, row: dict[int, float], right: float) -> None:
    model.rows.append([row.get(column, 0.0) for column in range(columns)])
    model.right.append(right)


def _solved(model: _Model, is_whole: bool, work: Work) -> tuple[list[float], int]:
    """Return how many of each column, and the price that no set is worth more than."""
    import numpy as np
    from scipy.optimize import Bounds, LinearConstraint, milp

    found: Any = milp(
        -np.array(model.worth),
        integrality=np.full(len(model.worth), int(is_whole)),
        bounds=Bounds(0, np.array(model.upper)),
        constraints=LinearConstraint(np.array(model.rows), -np.inf, np.array(model.right)),
        options={"node_limit": NODES, "mip_rel_gap": 0, "presolve": False},
    )
    nodes = int(found.get("mip_node_count") or 0)
    work.spend(_STEPS + _ROW * len(model.rows) + _NODE * nodes)
    most = found.get("mip_dual_bound") if is_whole else found.fun
    mixture = [0.0] * len(model.worth) if found.x is None else list(found.x)
    return mixture, _raised_up(-most if math.isfinite(most) else sum(model.worth) * 1e6)


def _raised_up(worth: float) -> int:
    """Return *worth* as a whole number, rounded up beyond what the solver may get wrong."""
    return int(worth * SCALE * (1 + 1e-7)) + 1
