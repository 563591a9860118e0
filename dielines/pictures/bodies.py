"""Board has a thickness that can be seen: a panel of it as a body with sides."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

from ..models.facets import Facet
from ..models.patches import EdgeKind

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Array = NDArray[Any]

INSET = 0.15  #: mm by which a body is drawn smaller, so that what is wrapped round it lies outside


def body(facet: Facet, thickness: float) -> Iterator[Facet]:
    """Yield the two large sides of a panel *thickness* mm thick, and the narrow ones round it."""
    import numpy as np

    half = facet.normal * (thickness / 2 - INSET)
    rings = tuple(
        _inset(ring, facet.normal, number == 0) for number, ring in enumerate(facet.rings)
    )
    flat = Facet(facet.owner, facet.panel, rings, facet.kinds, facet.normal)
    yield flat.moved(half)
    under = flat.moved(-half)
    yield Facet(facet.owner, facet.panel, under.rings, under.kinds, -facet.normal)
    for ring in rings:
        for start, end in zip(ring, np.roll(ring, -1, axis=0), strict=True):
            normal = np.cross(end - start, facet.normal)
            length = float(np.linalg.norm(normal))
            if length > 0:
                corners = np.array([start - half, end - half, end + half, start + half])
                yield Facet(
                    facet.owner, "", (corners,), ((EdgeKind.OUTLINE,) * 4,), normal / length
                )


def _inset(ring: Array, normal: Array, is_exterior: bool) -> Array:
    """Return *ring* with each corner moved into the panel along the line that halves its angle."""
    import numpy as np

    before, after = np.roll(ring, 1, axis=0), np.roll(ring, -1, axis=0)
    twice = np.cross(ring - ring[0], after - ring[0]).sum(axis=0) @ normal
    side = 1.0 if (twice > 0) == is_exterior else -1.0
    inward = [_unit(np.cross(normal, edge) * side) for edge in (ring - before, after - ring)]
    halving = inward[0] + inward[1]
    share = 1 + (inward[0] * inward[1]).sum(axis=1, keepdims=True)
    moved: Array = ring + INSET * halving / np.maximum(share, 0.2)
    return moved


def _unit(vectors: Array) -> Array:
    import numpy as np

    unit: Array = vectors / np.linalg.norm(vectors, axis=1, keepdims=True)
    return unit
