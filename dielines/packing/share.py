"""A share of the work that may still be done."""

from __future__ import annotations

from .order import Work


class Share(Work):
    """So many of a hundred steps that *whole* has left; what is spent of it is spent of the whole.

    >>> whole = Work(1000)
    >>> share = Share(whole, 40)
    >>> share.spend(300); whole.spent, share.is_over
    (300, False)
    >>> whole.stop(); share.is_over
    True
    """

    def __init__(self, whole: Work, percent: int) -> None:
        super().__init__(max(0, whole.limit - whole.spent) * percent // 100)
        self._whole = whole

    def spend(self, steps: int) -> None:
        """Count *steps* as done, here and of the whole."""
        super().spend(steps)
        self._whole.spend(steps)

    @property
    def is_over(self) -> bool:
        """Whether nothing more shall be tried, here or of the whole."""
        return super().is_over or self._whole.is_over
