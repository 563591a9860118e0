"""Panels as closed bodies of their true thickness: triangles of face, reverse and sides."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING, Any

from .facets import Facet

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Array = NDArray[Any]


@dataclass(frozen=True)
class Slab:
    """Corners (n x 3, mm) and triangles (m x 3) of one body, counter-clockwise seen from outside."""

    corners: Array
    face: Array
    reverse: Array
    sides: Array


def slab(facet: Facet, thickness: float) -> Slab:
    """Return *facet* as a body *thickness* mm thick, half of it to each side of the facet."""
    import numpy as np

    across, up = _frame(facet.normal)
    flat = np.vstack(facet.rings) @ np.array([across, up]).T
    triangles = _triangles(flat, [len(ring) for ring in facet.rings])
    count = len(flat)
    half = facet.normal * thickness / 2
    places = np.vstack(facet.rings)
    return Slab(
        np.vstack([places + half, places - half]),
        triangles,
        triangles[:, ::-1] + count,
        _sides(flat, [len(ring) for ring in facet.rings]),
    )


def _frame(normal: Array) -> tuple[Array, Array]:
    """Return two directions in the plane, right-handed with its *normal*."""
    import numpy as np

    axis = np.eye(3)[int(np.argmin(np.abs(np.round(normal, 9))))]
    across = np.cross(axis, normal)
    across /= np.linalg.norm(across)
    return across, np.cross(normal, across)


def _triangles(flat: Array, lengths: Sequence[int]) -> Array:
    """Return triangles (counter-clockwise) over the corners of the rings, no corner added."""
    import numpy as np
    import shapely

    stops = np.cumsum([0, *lengths])
    rings = [flat[a:b] for a, b in pairwise(stops.tolist())]
    shape = shapely.Polygon(rings[0], rings[1:])
    pieces = shapely.get_parts(shapely.constrained_delaunay_triangles(shape))
    numbers = {tuple(corner): number for number, corner in enumerate(flat.tolist())}
    found = [[numbers[corner] for corner in piece.exterior.coords[:3]] for piece in pieces]
    turned = [row if _area(flat[row]) > 0 else row[::-1] for row in found]
    return np.array(sorted(turned), dtype=np.int64).reshape(-1, 3)


def _area(corners: Array) -> float:
    (ax, ay), (bx, by), (cx, cy) = corners
    return float((bx - ax) * (cy - ay) - (by - ay) * (cx - ax))


def _sides(flat: Array, lengths: Sequence[int]) -> Array:
    """Return the triangles between the corners of face and reverse, rings run as they must."""
    import numpy as np

    count, start, found = len(flat), 0, []
    for number, length in enumerate(lengths):
        ring = list(range(start, start + length))
        if (_ring_area(flat[ring]) > 0) != (number == 0):
            ring.reverse()
        for a, b in zip(ring, [*ring[1:], *ring[:1]], strict=True):
            found += [[a, a + count, b + count], [a, b + count, b]]
        start += length
    return np.array(found, dtype=np.int64).reshape(-1, 3)


def _ring_area(ring: Array) -> float:
    """Return twice the area inside a ring; positive when counter-clockwise."""
    import numpy as np

    after = np.roll(ring, -1, axis=0)
    return float((ring[:, 0] * after[:, 1] - after[:, 0] * ring[:, 1]).sum())
