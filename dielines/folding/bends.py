"""How much paper a fold takes up."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from ..part import FoldKey, Part

#: The neutral axis lies this share of the thickness out from the inside of the bend. No figure
#: was found published for paper; 0.33 is usual for sheet metal and stands here as an assumption.
#: 0 is a fold that hinges at its bead, 0.5 one that stretches outside as it shrinks inside.
NEUTRAL_AXIS = 0.33
LEAST, MOST = 0.0, 0.5


@dataclass(frozen=True, slots=True)
class Bend:
    """How much paper a fold takes up: its bend allowance, for an inner radius of 0."""

    part: str
    fold: FoldKey
    angle_deg: float
    allowance: float


def bend_allowance(
    angle_deg: float, caliper: float, radius: float = 0.0, neutral_axis: float = NEUTRAL_AXIS
) -> float:
    """Return the length of the neutral axis in a fold, mm: pi / 180 A (R + K t).

    As in texts on sheet metal; K, *neutral_axis*, lies between 0 and 0.5. Raises
    ValueError outside of that.

    >>> round(bend_allowance(180, 0.2413), 3), round(bend_allowance(90, 0.2413, 0, 0.5), 4)
    (0.25, 0.1895)
    """
    if not LEAST <= neutral_axis <= MOST:
        raise ValueError(f"the neutral axis lies between 0 and 0.5, not at {neutral_axis}")
    if caliper < 0 or radius < 0:
        raise ValueError("caliper and radius are not negative")
    return math.radians(abs(angle_deg)) * (radius + neutral_axis * caliper)


def bends_of(key: str, part: Part, caliper: float) -> Iterator[Bend]:
    """Yield what each fold of a part takes up, folded sharp (inner radius 0)."""
    for line in part.folds:
        angle = float(line.angle_deg)
        if angle:
            yield Bend(key, line.key, angle, bend_allowance(angle, caliper))
