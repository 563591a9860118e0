"""A part cut up into convex pieces: ears are clipped off it, then joined where they stay convex.

Exact, in whole numbers. Source: Meisters, "Polygons have ears" (1975); Hertel and
Mehlhorn, "Fast triangulation of simple polygons" (1983).
"""

from __future__ import annotations

from dielines.errors import DoesNotHold
from dielines.packing.strips.outline import Outline, Point, Ring, twice_area


class CrossingOutline(DoesNotHold):
    """An outline that crosses itself, so that it has no inside."""

    def __init__(self) -> None:
        super().__init__("an outline crosses itself or one of its holes")


def convex_pieces(outline: Outline) -> tuple[Ring, ...]:
    """Return convex rings, counter-clockwise, that fill the outline and do not overlap.

    Raises CrossingOutline.

    >>> convex_pieces(Outline(((0, 0), (2, 0), (2, 1), (1, 1), (1, 2), (0, 2))))
    (((0, 0), (2, 0), (2, 1), (1, 1)), ((0, 2), (0, 0), (1, 1), (1, 2)))
    """
    ring = _counter_clockwise(outline.exterior)
    for hole in sorted(outline.holes, key=max, reverse=True):
        ring = _bridged(ring, _counter_clockwise(hole)[::-1])
    return _joined(_triangles(list(ring)))


def side(a: Point, b: Point, c: Point) -> int:
    """Return a positive number where *c* lies left of the way from *a* to *b*, 0 where on it."""
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def _counter_clockwise(ring: Ring) -> Ring:
    return ring if twice_area(ring) > 0 else ring[::-1]


def _bridged(ring: Ring, hole: Ring) -> Ring:
    """Return one ring out of two: a way there and back joins the hole to the ring."""
    walls = [*_edges(ring), *_edges(hole)]
    pairs = sorted(
        ((p[0] - q[0]) ** 2 + (p[1] - q[1]) ** 2, i, j)
        for i, p in enumerate(ring)
        for j, q in enumerate(hole)
    )
    for _, i, j in pairs:
        if not any(_meet(ring[i], hole[j], *wall) for wall in walls):
            return ring[: i + 1] + hole[j:] + hole[: j + 1] + ring[i:]
    raise CrossingOutline()


def _edges(ring: Ring) -> list[tuple[Point, Point]]:
    return list(zip(ring, (*ring[1:], *ring[:1]), strict=True))


def _meet(a: Point, b: Point, c: Point, d: Point) -> bool:
    """Return whether two lines meet elsewhere than at ends that they share."""
    if {a, b} & {c, d}:
        return False
    across = side(a, b, c) * side(a, b, d) <= 0 and side(c, d, a) * side(c, d, b) <= 0
    return across and side(a, b, c) != side(a, b, d)


def _triangles(ring: list[Point]) -> list[Ring]:
    found: list[Ring] = []
    while len(ring) > 2:
        at = _ear(ring)
        a, b, c = ring[at - 1], ring[at], ring[(at + 1) % len(ring)]
        if side(a, b, c):
            found.append((a, b, c))
        ring.pop(at)
    return found


def _ear(ring: list[Point]) -> int:
    """Return where a corner stands that can be clipped off: no other corner lies in it."""
    for at, b in enumerate(ring):
        a, c = ring[at - 1], ring[(at + 1) % len(ring)]
        turn = side(a, b, c)
        if turn == 0 or (turn > 0 and not _holds_corner(ring, a, b, c)):
            return at
    raise CrossingOutline()


def _holds_corner(ring: list[Point], a: Point, b: Point, c: Point) -> bool:
    return any(
        side(a, b, p) >= 0 and side(b, c, p) >= 0 and side(c, a, p) >= 0
        for p in ring
        if p not in (a, b, c)
    )


def _joined(triangles: list[Ring]) -> tuple[Ring, ...]:
    pieces: list[Ring] = []
    for piece in triangles:
        at = 0
        while at < len(pieces):
            both = _union(pieces[at], piece)
            if both:
                pieces.pop(at)
                piece, at = both, 0
            else:
                at += 1
        pieces.append(piece)
    return tuple(pieces)


def _union(one: Ring, other: Ring) -> Ring | None:
    """Return two convex pieces as one, where they share an edge and it stays convex."""
    for i, a in enumerate(one):
        b = one[(i + 1) % len(one)]
        if a in other and other[other.index(a) - 1] == b:
            j = other.index(a)
            both = (*one[i + 1 :], *one[: i + 1], *other[j + 1 :], *other[:j])[:-1]
            return _convex(both)
    return None


def _convex(ring: Ring) -> Ring | None:
    turns = [side(ring[i - 1], p, ring[(i + 1) % len(ring)]) for i, p in enumerate(ring)]
    if min(turns) < 0:
        return None
    return tuple(p for p, turn in zip(ring, turns, strict=True) if turn)
