"""A bound on what one building may cost, counted, so that it is the same on every machine."""

from __future__ import annotations

from typing import Any

from ..documents import Refusal

#: Panels made, edits done and pairs compared, weighed to about ten microseconds each.
MAX_WORK = 32_000
PANEL = 14  #: what a panel costs from the map to the part, its lines included
PART = 60
EDIT = 16
ZONE = 40  #: a zone of tape, with where it lands


def weight_of(value: Any) -> float:
    """Return what reading a value costs, expressions by their length."""
    if isinstance(value, dict):
        return sum(map(weight_of, value.values()))
    if isinstance(value, list):
        return sum(map(weight_of, value))
    return 1 + len(value) / 8 if isinstance(value, str) else 1


class Work:
    """What one building may still do; many small repeats inside one another are much."""

    def __init__(self) -> None:
        """Begin with all that is allowed."""
        self.left: float = MAX_WORK

    @property
    def is_used_up(self) -> bool:
        """Whether the bound was passed."""
        return self.left < 0

    @property
    def done(self) -> float:
        """How much was done."""
        return MAX_WORK - self.left

    def spend(self, amount: float) -> None:
        """Count *amount*; raises Refusal when it is more than is left."""
        self.left -= amount
        if self.is_used_up:
            raise Refusal(
                "too-much-work",
                "repeats, panels and edits are more than one template may ask for",
                "Use fewer or smaller repeats.",
            )
