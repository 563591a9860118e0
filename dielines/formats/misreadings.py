"""By how much a file comes out too large or too small when its unit is misread.

1 in = 25.4 mm = 96 px = 72 pt (CSS Values 4, absolute lengths); files with 90 units
to the inch go back to CSS 1, section 6.1, whose reference pixel was of 90 dpi.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

_MM = Fraction(254, 10)  # to the inch
_UNITS: tuple[tuple[str, Fraction], ...] = (  # name, how many make an inch
    ("units of 1/96 in", Fraction(96)),
    ("units of 1/90 in", Fraction(90)),
    ("points of 1/72 in", Fraction(72)),
    ("millimetres", _MM),
    ("centimetres", _MM / 10),
    ("inches", Fraction(1)),
)
_SHARE = 1e-3  # a ratio counts as one of these when it is no farther off than this share


@dataclass(frozen=True, slots=True)
class Misreading:
    """One unit taken for another; sizes come out *factor* times too large."""

    meant: str
    taken_for: str
    factor: Fraction
    name: str  #: how people say the factor: "96/72", "25.4"

    def __str__(self) -> str:
        return f"{self.meant} taken for {self.taken_for} (sizes x {self.name})"


def _name(factor: Fraction, meant: Fraction, taken: Fraction) -> str:
    if meant.denominator == taken.denominator == 1 and min(meant, taken) > 1:
        return f"{meant}/{taken}"
    return f"{float(factor):.6g}" if factor > 1 else f"1/{float(1 / factor):.6g}"


MISREADINGS: tuple[Misreading, ...] = tuple(
    Misreading(meant, taken, a / b, _name(a / b, a, b))
    for meant, a in _UNITS
    for taken, b in _UNITS
    if a != b
)


def misreading_of(ratio: float) -> Misreading | None:
    """Return the misreading that makes sizes *ratio* times too large, or None.

    >>> print(misreading_of(1.3333))
    units of 1/96 in taken for points of 1/72 in (sizes x 96/72)
    >>> print(misreading_of(25.4))
    millimetres taken for inches (sizes x 25.4)
    >>> misreading_of(1.016) is None
    True
    """
    best = min(MISREADINGS, key=lambda kind: abs(ratio / float(kind.factor) - 1))
    return best if abs(ratio / float(best.factor) - 1) <= _SHARE else None
