"""How much may be tried: counted in steps and never in seconds, the same on every machine."""

from __future__ import annotations


class Steps:
    """Steps taken so far, and how many may be."""

    def __init__(self, limit: int) -> None:
        self.limit = limit
        self.taken = 0

    def take(self, count: int) -> None:
        """Count so many steps as taken."""
        self.taken += count

    @property
    def are_over(self) -> bool:
        """Whether nothing more shall be tried."""
        return self.taken >= self.limit
