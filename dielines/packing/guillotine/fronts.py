"""Whether a few boxes can be cut from a sheet: exactly, by all the rectangles they can make.

The front of a set of boxes: every width and height in which it can be cut from edge to
edge that no other one beats in width, height and stages alike. It is joined from the
fronts of all ways to part the set in two, side by side and one above the other.
Fronts are kept, as the same few boxes are asked for again and again.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from ..order import Order, Way, Work
from .blocks import Block, box_block, joined
from .filling import ANY_NUMBER

#: Kinds of box in rising order, each as often as it is in the set.
Bag = tuple[int, ...]


class Entry(NamedTuple):
    """One rectangle of a front, and how it is made.

    *in_row* and *in_pile* are the stages that a row or a pile has with it as a part.
    """

    width: int
    height: int
    in_row: int
    in_pile: int
    way: Way | None
    near: Entry | int  #: where it is a box: its kind
    far: Entry | int  #: where it is a box: its quarter turns


class Fronts:
    """The fronts of sets of boxes on one kind of sheet."""

    def __init__(self, order: Order, bed: int, stages: int | None) -> None:
        self._order, self._bed = order, bed
        self._width, self._height = order.beds[bed].width, order.beds[bed].height
        self._stages = ANY_NUMBER if stages is None else stages
        self._known: dict[Bag, tuple[Entry, ...]] = {}

    def block(self, bag: Bag, work: Work) -> Block | None:
        """Return the boxes as they can be cut from the sheet; None where they cannot."""
        entries = self._boxes(bag[0]) if len(bag) == 1 else self._joined(bag, work)
        found = next(iter(entries), None)
        return None if found is None else _block(self._order, found)

    def _front(self, bag: Bag, work: Work) -> tuple[Entry, ...]:
        work.spend(1)
        front = self._known.get(bag)
        if front is None:
            entries = self._boxes(bag[0]) if len(bag) == 1 else self._joined(bag, work)
            front = self._known[bag] = _unbeaten(list(entries), work)
        return front

    def _boxes(self, kind: int) -> Iterator[Entry]:
        for quarters in self._order.turns(kind, self._bed):
            width, height = self._order.boxes[kind].lying(quarters)
            if width <= self._width and height <= self._height:
                yield Entry(width, height, 1, 1, None, kind, quarters)

    def _joined(self, bag: Bag, work: Work) -> Iterator[Entry]:
        """Yield rows and piles of every two parts of the set.

        The part with the first box is no row in a row: that is another way to part it.
        """
        wide, high, most = self._width, self._height, self._stages
        for one, two in parted(bag):
            far = self._front(two, work)
            near = self._front(one, work) if far else ()
            work.spend(len(near) * len(far) // 3)
            for a in near:
                aw, ah, ar, ap, way, _, _ = a
                for b in far:
                    if way is not Way.UPRIGHT and aw + b[0] <= wide:
                        stages = ar if ar > b[2] else b[2]
                        if stages <= most:
                            height = ah if ah > b[1] else b[1]
                            yield Entry(aw + b[0], height, stages, stages + 1, Way.UPRIGHT, a, b)
                    if way is not Way.LEVEL and ah + b[1] <= high:
                        stages = ap if ap > b[3] else b[3]
                        if stages <= most:
                            width = aw if aw > b[0] else b[0]
                            yield Entry(width, ah + b[1], stages + 1, stages, Way.LEVEL, a, b)


def parted(bag: Bag) -> Iterator[tuple[Bag, Bag]]:
    """Yield all ways to part a set in two, the first box in the first part."""
    last = len(bag) - 1
    seen: dict[Bag, None] = {}
    for mask in range(1, 1 << last):
        two = tuple(bag[i + 1] for i in range(last) if mask >> i & 1)
        if two not in seen:
            seen[two] = None
            yield bag[:1] + tuple(bag[i + 1] for i in range(last) if not mask >> i & 1), two


def _unbeaten(entries: list[Entry], work: Work) -> tuple[Entry, ...]:
    """Return the entries that none beats or equals in all four numbers."""
    entries.sort(key=lambda entry: entry[:4])
    kept: list[Entry] = []
    for entry in entries:
        _, height, in_row, in_pile, _, _, _ = entry
        for other in kept:
            if other[1] <= height and other[2] <= in_row and other[3] <= in_pile:
                break
        else:
            kept.append(entry)
    work.spend(len(entries) * (2 + len(kept)) // 12)
    return tuple(kept)


def _block(order: Order, entry: Entry) -> Block:
    if isinstance(entry.near, int):
        assert isinstance(entry.far, int)
        return box_block(entry.near, order.boxes[entry.near], entry.far)
    assert entry.way is not None
    assert not isinstance(entry.far, int)
    return joined(entry.way, (_block(order, entry.near), _block(order, entry.far)))
