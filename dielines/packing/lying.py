"""How each kind of box may lie on each kind of sheet, worked out once for an order."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import NamedTuple

from dielines.errors import DoesNotHold
from dielines.packing.order import Bed, Order


class Lying(NamedTuple):
    """A box as it may lie: its size after *quarters* turns."""

    width: int
    height: int
    quarters: int


#: for each bed, for each kind: the ways in which it may lie there and fits
Ways = tuple[tuple[tuple[Lying, ...], ...], ...]


def ways_to_lie(order: Order) -> Ways:
    """Return, by bed and by kind, the ways in which a box may lie on the sheet and fits it."""
    kinds = range(len(order.boxes))
    return tuple(
        tuple(_fitting(order, kind, number, bed) for kind in kinds)
        for number, bed in enumerate(order.beds)
    )


def _fitting(order: Order, kind: int, number: int, bed: Bed) -> tuple[Lying, ...]:
    box = order.boxes[kind]
    ways = (Lying(*box.lying(quarters), quarters) for quarters in order.turns(kind, number))
    return tuple(way for way in ways if way.width <= bed.width and way.height <= bed.height)


class Run:
    """Boxes of one kind that stand one after the other in a list: their places in the list."""

    __slots__ = ("kind", "last", "next")

    def __init__(self, kind: int, first: int) -> None:
        self.kind = kind
        self.next = first
        self.last = first


def runs_of(kinds: Sequence[int]) -> list[Run]:
    """Return the runs of equal kinds in a list, in its order.

    >>> [(run.kind, run.next, run.last) for run in runs_of([7, 7, 7, 2, 7])]
    [(7, 0, 2), (2, 3, 3), (7, 4, 4)]
    """
    runs: list[Run] = []
    for place, kind in enumerate(kinds):
        if runs and runs[-1].kind == kind:
            runs[-1].last = place
        else:
            runs.append(Run(kind, place))
    return runs


def places_left(runs: Iterable[Run]) -> tuple[int, ...]:
    """Return the places in the list of the boxes that are still in *runs*, ascending."""
    return tuple(sorted(place for run in runs for place in range(run.next, run.last + 1)))


class NoRoom(DoesNotHold):
    """Boxes that find no place on the sheets that can be had; *kinds* are theirs, ascending."""

    def __init__(self, kinds: Iterable[int]) -> None:
        self.kinds = tuple(sorted(set(kinds)))
        super().__init__("no sheet is left that could hold boxes " + _listed(self.kinds))


def _listed(kinds: Sequence[int]) -> str:
    return ", ".join(str(kind) for kind in kinds)


def refuse_misfits(order: Order, ways: Ways) -> None:
    """Raise NoRoom where a kind of box that is wanted fits no sheet at all."""
    found = [
        kind
        for kind, count in enumerate(order.counts)
        if count and not any(bed_ways[kind] for bed_ways in ways)
    ]
    if found:
        raise NoRoom(found)
