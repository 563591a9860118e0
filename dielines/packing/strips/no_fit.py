"""Where one part may not lie beside another: exact at each point of a raster, column by column.

Two parts overlap when the insides of two of their convex pieces do; pieces A and B
do so when the offset from A to B lies inside the sum of A and the mirrored B
(Minkowski). That sum is convex: one run of points in each column of the raster.
Parts may touch.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING

from dielines.packing.strips.convex import convex_pieces, side
from dielines.packing.strips.outline import Outline, Ring

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

#: Depths are told in so many parts of a pitch.
_FINE = 8


@dataclass(frozen=True)
class Lying:
    """A kind of part in one of its turns, as convex pieces from (0, 0)."""

    kind: int
    quarters: int
    outline: Outline
    pieces: tuple[Ring, ...]
    guarded: tuple[Ring, ...]  #: the pieces, grown by the gap
    width: int
    height: int
    gap: int


def lying(kind: int, outline: Outline, quarters: int, gap: int) -> Lying:
    """Return a part turned by so many quarters; raises CrossingOutline."""
    turned = outline.lying(quarters)
    pieces = convex_pieces(turned)
    return Lying(kind, quarters, turned, pieces, guarded(pieces, gap), *turned.size, gap)


def guarded(pieces: tuple[Ring, ...], gap: int) -> tuple[Ring, ...]:
    """Return convex pieces grown by a gap, all around and by 2 % more at some corners."""
    return tuple(convex_sum(piece, _around(gap)) for piece in pieces) if gap else pieces


def _around(gap: int) -> Ring:
    """Return a ring of sixteen sides around a circle; whole corners, none of them inside it.

    Corners stand at odd multiples of a sixteenth of a half turn, so that the ring is
    no wider and no higher than the circle; each is rounded away from the middle.
    """
    far = gap / math.cos(math.pi / 16)
    angles = [math.pi * (2 * n + 1) / 16 for n in range(4)]
    first = [(_up(far * math.cos(angle), gap), _up(far * math.sin(angle), gap)) for angle in angles]
    second = [(-y, x) for x, y in first]
    half = [*first, *second]
    return tuple(dict.fromkeys([*half, *((-x, -y) for x, y in half)]))


def _up(value: float, most: int) -> int:
    """Return the next whole number above, with room for the rounding of floats."""
    return min(math.ceil(value + 1e-9), most)


def no_fit(one: Lying, other: Lying, pitch: int) -> NDArray[np.bool_]:
    """Return where *other* overlaps *one*, by its offset in pitches.

    The offset (0, 0) stands at the first and the third number of ``reach``.
    """
    import numpy as np

    left, right, below, above = reach(one, other, pitch)
    raster = np.zeros((left + right + 1, below + above + 1), dtype=bool)
    for a in one.guarded:
        for b in other.pieces:
            away = tuple((-x, -y) for x, y in b)
            for x, low, high in _runs(convex_sum(a, away), pitch):
                raster[x + left, low + below : high + below + 1] = True
    return raster


def reach(one: Lying, other: Lying, pitch: int) -> tuple[int, int, int, int]:
    """Return the offsets in pitches within which *other* can be too close to *one*.

    At the left, right, below, above.
    """
    sizes = other.width, one.width, other.height, one.height
    left, right, below, above = ((size + one.gap - 1) // pitch for size in sizes)
    return left, right, below, above


def depths(raster: NDArray[np.bool_]) -> NDArray[np.int32]:
    """Return how far it is from each point to one where both parts fit, in eighths of a pitch."""
    import numpy as np
    from scipy.ndimage import distance_transform_edt

    far = distance_transform_edt(np.pad(raster, 1))[1:-1, 1:-1]
    return np.ascontiguousarray(np.rint(far * _FINE).astype(np.int32))


def convex_sum(a: Ring, b: Ring) -> Ring:
    """Return the sum of two convex rings, counter-clockwise from its leftmost corner (Minkowski).

    >>> convex_sum(((0, 0), (3, 0), (0, 2)), ((0, 0), (5, 0), (5, 1), (0, 1)))
    ((0, 0), (8, 0), (8, 1), (5, 3), (0, 3))
    """
    one, other = _from_left(a), _from_left(b)
    found, i, j = [], 0, 0
    while i < len(a) or j < len(b):
        p, q = one[i % len(a)], other[j % len(b)]
        found.append((p[0] + q[0], p[1] + q[1]))
        turn = _turn(one, i, other, j)
        i, j = i + (turn >= 0), j + (turn <= 0)
    return tuple(found)


def _from_left(ring: Ring) -> Ring:
    at = ring.index(min(ring))
    return ring[at:] + ring[:at]


def _turn(one: Ring, i: int, other: Ring, j: int) -> int:
    """Return which ring has the next edge: positive for *one*, negative for the other, 0 both."""
    if i == len(one):
        return -1
    if j == len(other):
        return 1
    (ax, ay), (bx, by) = one[i], one[(i + 1) % len(one)]
    (cx, cy), (dx, dy) = other[j], other[(j + 1) % len(other)]
    return side((0, 0), (bx - ax, by - ay), (dx - cx, dy - cy))


def _runs(ring: Ring, pitch: int) -> Iterator[tuple[int, int, int]]:
    """Return column, lowest and highest point inside a convex ring, in pitches."""
    right = ring.index(max(ring))
    lower = _heights(ring[: right + 1], pitch)
    upper = _heights((*ring[right:], ring[0])[::-1], pitch)
    for (x, low, of), (_, high, of_high) in zip(lower, upper, strict=True):
        first = low // (of * pitch) + 1
        last = -(-high // (of_high * pitch)) - 1
        if first <= last:
            yield x, first, last


def _heights(chain: Ring, pitch: int) -> Iterator[tuple[int, int, int]]:
    """Return column, and its height on the chain as a fraction, strictly between the ends."""
    end = chain[-1][0]
    x = chain[0][0] // pitch + 1
    for (ax, ay), (bx, by) in pairwise(chain):
        wide = bx - ax
        while x * pitch <= bx and x * pitch < end and wide:
            yield x, ay * wide + (by - ay) * (x * pitch - ax), wide
            x += 1
