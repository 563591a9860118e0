"""Numbers drawn by lot, the same on every machine and with every version of Python.

The generator is xorshift64* (Vigna, "An experimental exploration of Marsaglia's
xorshift generators, scrambled", 2016).
"""

from __future__ import annotations

_MASK = (1 << 64) - 1
_FACTOR = 0x2545F4914F6CDD1D


class Lots:
    """A row of numbers that looks random and depends on the *seed* alone.

    >>> lots, same = Lots(7), Lots(7)
    >>> [lots.below(1000) for _ in range(3)] == [same.below(1000) for _ in range(3)]
    True
    """

    def __init__(self, seed: int) -> None:
        self._state = (seed * 0x9E3779B97F4A7C15 + 1) & _MASK or 1
        for _ in range(4):
            self._next()

    def _next(self) -> int:
        x = self._state
        x ^= x >> 12
        x ^= (x << 25) & _MASK
        x ^= x >> 27
        self._state = x
        return (x * _FACTOR & _MASK) >> 32

    def below(self, count: int) -> int:
        """Return a whole number from 0 up to, not including, *count* (at most 2 ** 32)."""
        return self._next() * count >> 32

    def shuffled(self, things: list[int]) -> list[int]:
        """Return a copy of *things* in another order (Fisher and Yates)."""
        row = list(things)
        for i in range(len(row) - 1, 0, -1):
            j = self.below(i + 1)
            row[i], row[j] = row[j], row[i]
        return row
