"""Linear programmes, and such in whole numbers: the one place that calls a solver.

The solver is HiGHS, within scipy (Huangfu and Hall, "Parallelizing the dual revised
simplex method", 2018). Its budget is counted in branches, never in seconds.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import TYPE_CHECKING, Any, NamedTuple

from .muted import muted
from .order import Work

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Matrix = NDArray[np.float64]

_LEAST = 1500  #: work of a linear programme, and for each column
_COLUMN = 25
_WHOLE = 8000  #: work of one in whole numbers, for each row, and for each branch
_ROW = 200
_NODE = 1000
_NO_NUMBERS = 2  #: the solver's word for rows that contradict each other


class Programme(NamedTuple):
    """Numbers from 0 to *upper* with the least cost, each row at most its right side."""

    costs: Sequence[float]
    rows: Matrix
    right: Sequence[float]
    upper: Sequence[float] | None = None


class Answer(NamedTuple):
    """The numbers, what they cost, and what a unit more of each right side would save.

    Of a programme in whole numbers there are no savings.
    """

    numbers: tuple[float, ...]
    cost: float
    savings: tuple[float, ...]


class WholeAnswer(NamedTuple):
    """Whole numbers, None where none were found, and a cost below which none can be.

    The bound is infinite where no whole numbers keep to the rows.
    """

    numbers: tuple[int, ...] | None
    bound: float


def solved(programme: Programme, work: Work) -> Answer:
    """Return the best numbers, fractions allowed; raises ValueError where there are none."""
    from scipy.optimize import linprog

    work.spend(_LEAST + _COLUMN * len(programme.costs))
    upper: Sequence[float | None] = programme.upper or [None] * len(programme.costs)
    with muted():
        found: Any = linprog(
            programme.costs,
            A_ub=programme.rows,
            b_ub=programme.right,
            bounds=[(0, most) for most in upper],
            method="highs-ds",
            options={"presolve": False},
        )
    if found.status != 0:
        raise ValueError(f"No numbers keep to the rows: {found.message}")
    return Answer(tuple(found.x), found.fun, tuple(-dual for dual in found.ineqlin.marginals))


def solved_whole(programme: Programme, branches: int, work: Work) -> WholeAnswer:
    """Return the best whole numbers that so many branches find."""
    import numpy as np
    from scipy.optimize import Bounds, LinearConstraint, milp

    count = len(programme.costs)
    upper = np.full(count, np.inf) if programme.upper is None else np.array(programme.upper)
    rows, right = _scaled(programme)
    with muted():
        found: Any = milp(
            np.array(programme.costs, dtype=float),
            integrality=np.ones(count),
            bounds=Bounds(0, upper),
            constraints=LinearConstraint(rows, -np.inf, right),
            options={"node_limit": branches, "mip_rel_gap": 0, "presolve": False},
        )
    work.spend(_WHOLE + _ROW * len(rows) + _NODE * int(found.get("mip_node_count") or 0))
    if found.status == _NO_NUMBERS:
        return WholeAnswer(None, math.inf)
    bound = found.get("mip_dual_bound")
    numbers = None if found.x is None else tuple(round(number) for number in found.x)
    return WholeAnswer(numbers, -math.inf if bound is None else float(bound))


def _scaled(programme: Programme) -> tuple[Matrix, Matrix]:
    """Return rows and right sides with no number in a row above 1.

    The solver takes a number for whole that is off by a millionth; no row may make
    more of that.
    """
    import numpy as np

    largest = np.maximum(np.abs(programme.rows).max(axis=1, initial=0), 1e-300)
    return programme.rows / largest[:, None], np.array(programme.right) / largest
