"""Board has a thickness that can be seen: a panel of it as a body with sides."""

from __future__ import annotations

from collections.abc import Iterator

from ..models.facets import Facet
from ..models.patches import EdgeKind


def body(facet: Facet, thickness: float) -> Iterator[Facet]:
    """Yield the two large sides of a panel *thickness* mm thick, and the narrow ones round it."""
    import numpy as np

    half = facet.normal * thickness / 2
    yield facet.moved(half)
    under = facet.moved(-half)
    yield Facet(facet.owner, facet.panel, under.rings, under.kinds, -facet.normal)
    for ring in facet.rings:
        for start, end in zip(ring, np.roll(ring, -1, axis=0), strict=True):
            normal = np.cross(end - start, facet.normal)
            length = float(np.linalg.norm(normal))
            if length > 0:
                corners = np.array([start - half, end - half, end + half, start + half])
                yield Facet(
                    facet.owner, "", (corners,), ((EdgeKind.OUTLINE,) * 4,), normal / length
                )
