"""Edges that two parts share, cut once, where parts lie against one another without a gap.

Outlines that share an edge come apart into straight lines, of which those that
continue one another are one; each line bears the names of all parts that it
belongs to. All other outlines stay closed. Only a tool that takes nothing away
can cut so, and only cuts are merged: a score that ends on an edge is no cut.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import count

from ..drawing import Drawing, Group, Item, Layer
from ..paths import Path, Point, Vertex
from .collinear import Edge, doubled, joined, merged, rows
from .contours import is_closed_cut
from .duplicates import Key, key_of, without_duplicates
from .in_cutting_order import in_cutting_order


@dataclass(frozen=True)
class _Cluster:
    """Outlines that hang together by shared edges, by their numbers, and what is cut instead."""

    members: tuple[int, ...]
    items: tuple[Item, ...]


def with_shared_edges(drawing: Drawing) -> Drawing:
    """Return *drawing*, which is in cutting order, with edges that closed cuts share cut once.

    The lines of parts that share edges stand where the last of their outlines
    stood: after all that lies inside them, and before what holds them. Arcs count
    as shared where they are the same from end to end.
    """
    items = drawing.items()
    owned = rows(_straight_edges(items))
    shared = [pair for row in owned for pair in doubled(row)]
    clusters = [
        _cluster(drawing, owned, members) for members in joined([*shared, *_arcs_twice(items)])
    ]
    last = {cluster.members[-1]: cluster for cluster in clusters}
    gone = {number for cluster in clusters for number in cluster.members}
    numbers = count()
    groups = (
        replace(group, items=tuple(_kept(group, numbers, last, gone))) for group in drawing.groups
    )
    return replace(drawing, groups=tuple(groups)) if clusters else drawing


def _kept(
    group: Group, numbers: Iterator[int], last: Mapping[int, _Cluster], gone: set[int]
) -> Iterator[Item]:
    """Yield the paths of *group* with the lines of each cluster in place of its last outline."""
    for item, number in zip(group.items, numbers, strict=False):
        if number in last:
            yield from last[number].items
        elif number not in gone:
            yield item


def _straight_edges(items: Sequence[Item]) -> Iterator[tuple[int, Point, Point]]:
    """Yield the straight edges of closed cuts, each with the number of its path."""
    for number, item in enumerate(items):
        if is_closed_cut(item):
            for start, end, bulge in item.path.segments():
                if not bulge and start != end:
                    yield number, start, end


def _cluster(
    drawing: Drawing, owned: Sequence[Sequence[Edge]], members: tuple[int, ...]
) -> _Cluster:
    items, among = drawing.items(), set(members)
    lines = [
        Item(Layer.CUT, path, _names(items, owners))
        for row in owned
        if (own := [edge for edge in row if edge.owner in among])
        for path, owners in merged(own)
    ]
    group = Group(
        "shared", "", (*lines, *(arc for number in members for arc in _arcs_of(items[number])))
    )
    alone = Drawing(drawing.width, drawing.height, (group,))
    return _Cluster(members, in_cutting_order(without_duplicates(alone)).items())


def _names(items: Sequence[Item], owners: Iterable[int]) -> str:
    return ", ".join(dict.fromkeys(items[owner].name for owner in owners if items[owner].name))


def _arcs_twice(items: Sequence[Item]) -> Iterator[tuple[int, int]]:
    """Yield pairs of closed cuts that have the same arc."""
    first: dict[Key, int] = {}
    for number, item in enumerate(items):
        if is_closed_cut(item):
            for arc in _arcs_of(item):
                other = first.setdefault(key_of(arc.path), number)
                if other != number:
                    yield other, number


def _arcs_of(item: Item) -> Iterator[Item]:
    for start, end, bulge in item.path.segments():
        if bulge:
            yield replace(item, path=Path((Vertex(*start, bulge), Vertex(*end)), closed=False))
