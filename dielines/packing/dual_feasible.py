"""Dual feasible functions: lengths told anew so that what fitted side by side still fits.

A function f from 0..size to 0..scale is dual feasible when any lengths that together
are no longer than *size* have values that together are no more than *scale*. The
product of one for widths and one for heights is then a weight of boxes of which no
sheet holds more than the product of the scales (Fekete and Schepers, "New classes of
fast lower bounds for bin packing problems", 2001; Carlier, Clautiaux and Moukrim,
"New reduction procedures and lower bounds for the two-dimensional bin packing problem
with fixed orientation", 2007; both from memory).
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

MOST_MULTIPLES = 40  #: common practice: finer ones gain nothing


class Dual(NamedTuple):
    """A dual feasible function, by its values at the lengths that were asked for."""

    scale: int
    values: tuple[int, ...]


def dual_feasible(size: int, lengths: Sequence[int]) -> tuple[Dual, ...]:
    """Return different dual feasible functions for *size*, each by its values at *lengths*.

    >>> Dual(10, (4, 7)) in dual_feasible(10, [4, 7]), Dual(10, (0, 10)) in dual_feasible(10, [3, 7])
    (True, True)
    """
    steps = _steps(size, lengths)
    found: dict[Dual, None] = {Dual(size, tuple(lengths)): None}
    found.update((_thresholds(size, k, lengths), None) for k in steps)
    found.update((_rounded(size, k, lengths), None) for k in steps)
    most = min(MOST_MULTIPLES, size)
    found.update((_multiples(size, m, lengths), None) for m in range(1, most + 1))
    return tuple(dual for dual in found if any(dual.values))


def _steps(size: int, lengths: Sequence[int]) -> list[int]:
    """Return the lengths up to half of *size* at which a function can change."""
    near = {k for length in lengths for k in (length, length + 1, size - length, size - length + 1)}
    return sorted(k for k in near if 1 <= 2 * k <= size)


def _thresholds(size: int, k: int, lengths: Sequence[int]) -> Dual:
    """Lengths below *k* count nothing, those that leave less than *k* count as the whole."""
    return Dual(size, tuple(_threshold(size, k, length) for length in lengths))


def _threshold(size: int, k: int, length: int) -> int:
    if length > size - k:
        return size
    return length if length >= k else 0


def _rounded(size: int, k: int, lengths: Sequence[int]) -> Dual:
    """How many *k* go into each, rounded down up to half of *size* and its rest from there on."""
    whole = size // k
    return Dual(2 * whole, tuple(_round(size, k, whole, length) for length in lengths))


def _round(size: int, k: int, whole: int, length: int) -> int:
    if 2 * length > size:
        return 2 * (whole - (size - length) // k)
    return whole if 2 * length == size else 2 * (length // k)


def _multiples(size: int, m: int, lengths: Sequence[int]) -> Dual:
    """Lengths rounded down to *m*-ths, unless they are whole parts of m + 1."""
    return Dual(m * size, tuple(_multiple(size, m, length) for length in lengths))


def _multiple(size: int, m: int, length: int) -> int:
    whole, rest = divmod((m + 1) * length, size)
    return whole * size if rest else m * length
