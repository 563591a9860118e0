"""Parts that a template needs several of: each its own part, each with its own join."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from .bound import Bound, BoundPart, Join
from .joining import numbered


def with_each_copy(bound: Bound) -> Bound:
    """Return *bound* with a part of its own for each of a quantity.

    The first copy keeps its key; the others are numbered from 2. Of several joins
    that a template repeats for such a part, the k-th is that of the k-th copy; a
    seam of its own is closed on each. What is joined to none falls away.
    """
    quantities = {entry.key: entry.part.quantity for entry in bound.parts}
    parts = tuple(copy for entry in bound.parts for copy in copies_of(entry))
    joins = [
        join
        for join in bound.joins
        if quantities.get(join.part, 1) and quantities.get(join.onto_part, 1)
    ]
    return replace(bound, parts=parts, joins=numbered(list(_dealt(joins, quantities))))


def copies_of(entry: BoundPart) -> Iterator[BoundPart]:
    """Yield the part as often as its template needs it; none of quantity 0."""
    one = replace(entry, part=replace(entry.part, quantity=1))
    for number in range(1, entry.part.quantity + 1):
        yield one if number == 1 else replace(one, key=copy_key(entry.key, number))


def copy_key(key: str, number: int) -> str:
    """Return the key of a copy: the first is called as the part itself."""
    return key if number == 1 else f"{key}-{number}"


def _dealt(joins: Sequence[Join], quantities: Mapping[str, int]) -> Iterator[Join]:
    """Yield *joins*, those of a zone that is joined repeatedly dealt out to the copies in turn."""
    seen: dict[tuple[str, str], int] = {}
    for join in joins:
        if join.part == join.onto_part:
            for number in range(1, quantities.get(join.part, 1) + 1):
                key = copy_key(join.part, number)
                yield replace(join, part=key, onto_part=key)
            continue
        turn = seen[join.part, join.zone] = seen.get((join.part, join.zone), 0) + 1
        copy = (turn - 1) % quantities.get(join.part, 1) + 1
        yield replace(join, part=copy_key(join.part, copy))
