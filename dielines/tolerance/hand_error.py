"""What a hand does not do exactly: single errors, and how much of each a clearance feels."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from enum import Enum
from typing import NamedTuple

from ..workshop.hand_tools import HandErrors


class ErrorKind(Enum):
    """What the hand was doing."""

    CUT = "cut"
    SCORE = "score"
    TAPE = "tape"


class HandError(NamedTuple):
    """One error of the hand: a cut edge, a score or a piece of tape that is off its place.

    *place* is the edge (``left of front``), the line (``front / tail``) or the zone;
    *axis* is the way in which tape is off, x or y of what it goes onto. Equal parts
    are cut one after the other, so each has errors of its own.
    """

    kind: ErrorKind
    part: str
    place: str
    axis: str = ""


Row = Mapping[HandError, float]
"""How far something moves, in mm, for each mm by which the hand is off (``C`` in g = g0 + C e)."""


def deviations(hand: HandErrors) -> Mapping[ErrorKind, float]:
    """Return the standard deviation of each kind of error, mm."""
    return {
        ErrorKind.CUT: float(hand.cut.mm),
        ErrorKind.SCORE: float(hand.score.mm),
        ErrorKind.TAPE: float(hand.tape.mm),
    }


def total(rows: Iterable[tuple[float, Row]]) -> dict[HandError, float]:
    """Return the sum of *rows*, each times its factor; what cancels is left out."""
    summed: dict[HandError, float] = {}
    for factor, row in rows:
        for error, share in row.items():
            summed[error] = summed.get(error, 0.0) + factor * share
    return {error: share for error, share in summed.items() if abs(share) > NOTHING}


def variance(row: Row, hand: HandErrors) -> float:
    """Return the square of the standard deviation, sum (c s)^2 of independent errors, mm2."""
    usual = deviations(hand)
    return math.fsum((share * usual[error.kind]) ** 2 for error, share in row.items())


def below_zero(nominal: float, deviation: float) -> float:
    """Return how likely a normal value of this mean and standard deviation is below 0.

    >>> round(below_zero(1.959964, 1.0), 6), below_zero(-1, 0), below_zero(0, 0)
    (0.025, 1.0, 0.0)
    """
    if not deviation:
        return 1.0 if nominal < 0 else 0.0
    return math.erfc(nominal / deviation / math.sqrt(2)) / 2


NOTHING = 1e-9  #: a share so small comes from floats alone
