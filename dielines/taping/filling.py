"""Which widths of tape, side by side, fill a zone of a given width."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from fractions import Fraction
from functools import lru_cache

SUMS = 20_000  #: sums of widths that are looked at before the widest-first filling is taken

Widths = tuple[Fraction, ...]
Counts = tuple[int, ...]
"""Widths as whole numbers of their common part."""


def filling(room: Fraction, widths: Iterable[Fraction]) -> Widths:
    """Return the widths that fill *room* side by side, wide to narrow; none when all are wider.

    Filled means that not even the narrowest fits beside them. Of all such rows the
    one with the fewest strips, of these the one with the least gap, of these the one
    that begins with the widest. A row of very many narrow widths is filled with the
    widest first, without looking further.
    """
    owned = sorted({width for width in widths if 0 < width <= room}, reverse=True)
    if not owned:
        return ()
    scale = math.lcm(*(length.denominator for length in (room, *owned)))
    parts = tuple(int(width * scale) for width in owned)
    return tuple(Fraction(part, scale) for part in _best(int(room * scale), parts))


def fewest_possible(room: Fraction, widths: Iterable[Fraction]) -> int:
    """Return how many strips it takes at least to fill *room*; 0 when all are wider."""
    owned = [width for width in widths if 0 < width <= room]
    return (room - min(owned)) // max(owned) + 1 if owned else 0


@lru_cache(maxsize=1024)
def _best(room: int, owned: Counts) -> Counts:
    return _fewest(room, owned) or widest_first(room, owned)


def widest_first(room: int, owned: Sequence[int]) -> Counts:
    """Return a full row of *owned* widths (wide to narrow), always the widest that still fits.

    >>> widest_first(23, (10, 4, 3))
    (10, 10, 3)
    """
    row: list[int] = []
    for width in owned:
        count = room // width
        row += [width] * count
        room -= count * width
    return tuple(row)


def _fewest(room: int, owned: Counts) -> Counts:
    """Return the best row; none where there are too many sums to look at."""
    rows: dict[int, Counts] = {0: ()}
    seen = 0
    while seen < SUMS:
        rows = _longer(rows, room, owned)
        most = max(rows)
        if room - most < owned[-1]:
            return rows[most]
        seen += len(rows)
    return ()


def _longer(rows: dict[int, Counts], room: int, owned: Counts) -> dict[int, Counts]:
    """Return, for each sum that one more strip makes, the row of it that begins the widest."""
    longer: dict[int, Counts] = {}
    for total, row in rows.items():
        for width in owned:
            if total + width <= room:
                found = tuple(sorted((*row, width), reverse=True))
                longer[total + width] = max(found, longer.get(total + width, ()))
    return longer
