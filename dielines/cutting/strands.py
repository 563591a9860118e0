"""Paths that are worked in one go, as they follow one another: the strokes of a text."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

from ..drawing import Group, Item, Layer
from .entries import Way, place_of, run_from, ways_of
from .travel import end_of, start_of, way_between

#: mm; from the end of one stroke of a text to the start of the next it is no farther. As far
#: as across a letter of 5 mm; with taller letters a text falls into words, which costs nothing.
REACH = 6.0

Strand = tuple[Item, ...]  #: one path or more


def strands_of(group: Group, layer: Layer) -> list[Strand]:
    """Return the paths of *group* on *layer*; those that write a text in one strand.

    What is written stands in an order that is good already, and has very many paths.
    """
    items = [item for item in group.items if item.layer is layer and item.path.vertices]
    return _texts(items) if layer is Layer.LABEL else [(item,) for item in items]


def _texts(items: Iterable[Item]) -> list[Strand]:
    found: list[list[Item]] = []
    for item in items:
        if found and way_between(found[-1][-1].path, item.path) <= REACH:
            found[-1].append(item)
        else:
            found.append([item])
    return [tuple(strand) for strand in found]


def ways_along(strand: Strand) -> tuple[Way, ...]:
    """Return the ways to run *strand*: several paths from either end."""
    if len(strand) == 1:
        return ways_of(strand[0].path)
    first, last = place_of(start_of(strand[0].path)), place_of(end_of(strand[-1].path))
    return (Way(first, last), Way(last, first))


def run_along(strand: Strand, way: int) -> Iterator[Item]:
    """Yield the paths of *strand*, run in the way of that number."""
    several = len(strand) > 1
    for item in reversed(strand) if several and way else strand:
        is_turned = way and not (several and item.path.closed)
        yield replace(item, path=run_from(item.path, way)) if is_turned else item
