"""A face with holes as one ring, for formats whose faces have no holes."""

from __future__ import annotations

from collections.abc import Sequence

from .patches import Flat


def one_ring(rings: Sequence[Sequence[Flat]]) -> list[Flat]:
    """Return one counter-clockwise ring round *rings* (an exterior, then its holes).

    Each hole is reached over a bridge that is run along twice: from a corner of
    the ring so far to the nearest corner of the hole that can be seen from there.
    """
    from shapely import LineString, Polygon, prepare

    exterior, *holes = rings
    shape = Polygon(exterior, holes)
    prepare(shape)
    ring = list(exterior)
    for hole in sorted(holes, key=lambda h: max(x for x, _ in h), reverse=True):
        pairs = sorted(
            ((x - u) ** 2 + (y - v) ** 2, i, j)
            for i, (x, y) in enumerate(ring)
            for j, (u, v) in enumerate(hole)
        )
        start, end = next(
            (i, j) for _, i, j in pairs if shape.covers(LineString([ring[i], hole[j]]))
        )
        turned = _clockwise([*hole[end:], *hole[:end]])
        ring[start:start] = [ring[start], *turned, turned[0]]
    return ring


def _clockwise(ring: Sequence[Flat]) -> list[Flat]:
    """Return *ring* run clockwise, its first corner first."""
    turned = [*ring[1:], ring[0]]
    twice = sum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in zip(ring, turned, strict=True))
    return list(ring) if twice < 0 else [ring[0], *reversed(ring[1:])]
