"""Where one part may not lie beside another: exact at each point of a raster, column by column.

Two parts overlap when the insides of two of their convex pieces do; pieces A and B
do so when the offset from A to B lies inside the sum of A and the mirrored B
(Minkowski). That sum is convex: one run of points in each column of the raster.
Parts may touch.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING

from dielines.packing.strips.convex import convex_pieces, side
from dielines.packing.strips.outline import Outline, Point, Ring

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
    width: int
    height: int


def lying(kind: int, outline: Outline, quarters: int) -> Lying:
    """Return a part turned by so many quarters; raises CrossingOutline."""
    turned = outline.lying(quarters)
    return Lying(kind, quarters, turned, convex_pieces(turned), *turned.size)


def no_fit(one: Lying, other: Lying, pitch: int) -> NDArray[np.bool_]:
    """Return where *other* overlaps *one*, by its offset in pitches.

    The offset (0, 0) stands at ``reach(other.width), reach(other.height)``.
    """
    import numpy as np

    left, below = reach(other.width, pitch), reach(other.height, pitch)
    size = left + reach(one.width, pitch) + 1, below + reach(one.height, pitch) + 1
    raster = np.zeros(size, dtype=bool)
    for a in one.pieces:
        for b in other.pieces:
            for x, low, high in _runs(_difference(a, b), pitch):
                raster[x + left, low + below : high + below + 1] = True
    return raster


def reach(size: int, pitch: int) -> int:
    """Return the largest offset in pitches at which a part of this size could be overlapped."""
    return (size - 1) // pitch


def depths(raster: NDArray[np.bool_]) -> NDArray[np.int32]:
    """Return how far it is from each point to one where both parts fit, in eighths of a pitch."""
    import numpy as np
    from scipy.ndimage import distance_transform_edt

    far = distance_transform_edt(np.pad(raster, 1))[1:-1, 1:-1]
    return np.ascontiguousarray(np.rint(far * _FINE).astype(np.int32))


def _difference(a: Ring, b: Ring) -> list[Point]:
    """Return the sum of *a* and the mirrored *b*, counter-clockwise from its leftmost corner."""
    one = _from_left(a)
    other = _from_left(tuple((-x, -y) for x, y in b))
    found, i, j = [(one[0][0] + other[0][0], one[0][1] + other[0][1])], 0, 0
    while i < len(a) or j < len(b):
        turn = _turn(one, i, other, j)
        i, j = i + (turn >= 0), j + (turn <= 0)
        p, q = one[i % len(a)], other[j % len(b)]
        found.append((p[0] + q[0], p[1] + q[1]))
    return found


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


def _runs(ring: list[Point], pitch: int) -> Iterator[tuple[int, int, int]]:
    """Return column, lowest and highest point inside a convex ring, in pitches."""
    right = ring.index(max(ring))
    lower = _heights(ring[: right + 1], pitch)
    upper = _heights(ring[right:][::-1], pitch)
    for (x, low, of), (_, high, of_high) in zip(lower, upper, strict=True):
        first = low // (of * pitch) + 1
        last = -(-high // (of_high * pitch)) - 1
        if first <= last:
            yield x, first, last


def _heights(chain: list[Point], pitch: int) -> Iterator[tuple[int, int, int]]:
    """Return column, and its height on the chain as a fraction, strictly between the ends."""
    end = chain[-1][0]
    x = chain[0][0] // pitch + 1
    for (ax, ay), (bx, by) in pairwise(chain):
        wide = bx - ax
        while x * pitch <= bx and x * pitch < end and wide:
            yield x, ay * wide + (by - ay) * (x * pitch - ax), wide
            x += 1
