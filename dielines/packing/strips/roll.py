"""Parts on a roll of given width: fabric, tape or paper that is cut off at any length."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from math import gcd, isqrt

from dielines.packing.order import Work
from dielines.packing.strips.outline import Outline, Strip, StripOrder, length_bound
from dielines.packing.strips.shortening import short_strip

#: Points of the raster on the roll, and numbers in the tables of all pairs of parts, at
#: most: a second's work for some thousand moves, and 160 MB.
_MOST_POINTS = 20_000
_MOST_NUMBERS = 40_000_000


def roll(order: StripOrder, work: Work) -> tuple[Strip, int]:
    """Return where all parts lie on a roll, and a length below which no layout can be.

    The parts lie along the roll as they may turn, *gap* apart, windows and notches
    used; *pitch* of the order does not matter, for it is chosen here. Work of
    1,000,000,000 takes about a second. Raises NoRoom where a part is wider than the
    roll in all of its turns, and CrossingOutline.
    """
    chosen = replace(order, pitch=pitch_for(order))
    return short_strip(chosen, work), length_bound(order)


def pitch_for(order: StripOrder) -> int:
    """Return the finest pitch that the work can bear, one that divides all sizes if there is one."""
    wanted = [kind for kind, count in enumerate(order.counts) if count]
    sizes = [order.outlines[kind].lying(q).size for kind in wanted for q in order.turns[kind]]
    finest = max(_for_points(order), _for_numbers(sizes, order.gap), 1)
    shared = gcd(*(length + order.gap for size in sizes for length in size))
    return next((shared // n for n in range(shared // finest, 0, -1) if shared % n == 0), finest)


def _for_points(order: StripOrder) -> int:
    points = length_bound(order) * order.width
    return _root(points, _MOST_POINTS)


def _for_numbers(sizes: Sequence[tuple[int, int]], gap: int) -> int:
    """Return the pitch at which the tables of all pairs of parts have so many numbers."""
    wide, high = sum(w + gap for w, _ in sizes), sum(h + gap for _, h in sizes)
    own = sum((w + gap) * (h + gap) for w, h in sizes)
    return _root(2 * (len(sizes) * own + wide * high), _MOST_NUMBERS)


def _root(whole: int, parts: int) -> int:
    """Return the side of squares, rounded up, of which so many make the whole."""
    return isqrt(max(whole - 1, 0) // parts) + 1


def whole(rings: Sequence[Sequence[tuple[float, float]]], unit: float) -> Outline:
    """Return rings, the exterior first, with corners rounded to whole units.

    >>> whole([[(0, 0), (1.5, 0), (0, 0.75)]], 0.25)
    Outline(exterior=((0, 0), (6, 0), (0, 3)), holes=())
    """
    exterior, *holes = (
        tuple((round(x / unit), round(y / unit)) for x, y in ring) for ring in rings
    )
    return Outline(exterior, tuple(holes))
