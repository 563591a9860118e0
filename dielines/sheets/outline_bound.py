"""A price that no layout of real outlines can be below.

Two arguments, of which the better one counts. Wherever the parts lie, the rectangles
inside them do not overlap: what those need is needed. And parts of which no two can
share a sheet take a sheet each.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import cache

from ..packing.bounds import dff_bound
from ..packing.order import Bed, Box
from ..packing.outlines.apart import CELLS, can_lie_together, inside_of, most_apart
from ..packing.outlines.inside import largest_rectangle_inside
from ..packing.outlines.rings import Ring, turned_rings
from ..paths import flattened
from .problem import Problem
from .wanted import Wanted

SAGITTA = 0.05  #: mm; so far an arc may be off its chords
MOST_KINDS = 40  #: of the largest kinds, which are tried two by two
SMALL = 0.2  #: of a sheet; what covers less always finds a neighbour


def rings_of(one: Wanted) -> list[Ring]:
    """Return the outline and the openings of a part, mm, turned so that its grain runs up."""
    rings = [flattened(path, SAGITTA) for path in one.part.outline]
    return list(turned_rings(rings, one.quarters))


def is_rectangle(rings: Sequence[Ring]) -> bool:
    """Return whether an outline without openings is a rectangle."""
    if len(rings) > 1 or len(rings[0]) != 4:
        return False
    return all(len({corner[axis] for corner in rings[0]}) == 2 for axis in (0, 1))


def ways_to_lie(one: Wanted, problem: Problem) -> list[int]:
    """Return the quarter turns in which a part may lie on one sheet or another."""
    if one.may_turn or any(bed.turns_all for bed in problem.order.beds):
        return [0, 1, 2, 3]
    return [0, 2] if one.may_stand_on_its_head else [0]


def least_price(problem: Problem, rings: Sequence[Sequence[Ring]]) -> int:
    """Return a price that no layout of the real outlines can be below."""
    inner = [
        _inner_box(one, ring, problem) for one, ring in zip(problem.wanted, rings, strict=True)
    ]
    by_rectangles = dff_bound(replace(problem.order, boxes=tuple(inner)))
    return max(by_rectangles, cheapest(problem.order.beds, parts_apart(problem, rings)))


def _inner_box(one: Wanted, rings: Sequence[Ring], problem: Problem) -> Box:
    """Return the largest rectangle inside a part, with the gap, in units rounded down."""
    across, up = largest_rectangle_inside(rings)
    gap, unit = float(problem.gap.mm), float(problem.scale.unit)
    wide, high = (max(int((side + gap) / unit + 1e-6), 1) for side in (across, up))
    return Box(wide, high, one.may_turn)


def parts_apart(problem: Problem, rings: Sequence[Sequence[Ring]]) -> int:
    """Return a number of parts of which no two can share a sheet."""
    order, gap = problem.order, float(problem.gap.mm)
    largest = max(float(side.mm) for room in problem.rooms for side in room.size)
    cell = largest / CELLS
    whole = max(bed.area for bed in order.beds)
    kinds = sorted(range(len(order.boxes)), key=lambda kind: (-order.boxes[kind].area, kind))
    kinds = [kind for kind in kinds if order.boxes[kind].area > SMALL * whole][:MOST_KINDS]
    lying = [
        [
            inside_of(rings[kind], turn, cell, gap)
            for turn in ways_to_lie(problem.wanted[kind], problem)
        ]
        for kind in kinds
    ]
    sheets = {(float(r.size.across.mm) + gap, float(r.size.up.mm) + gap) for r in problem.rooms}

    @cache
    def pair(a: int, b: int) -> bool:
        return any(can_lie_together(lying[a], lying[b], *sheet, cell) for sheet in sorted(sheets))

    return most_apart(
        [order.counts[kind] for kind in kinds], lambda a, b: pair(min(a, b), max(a, b))
    )


def cheapest(beds: Sequence[Bed], count: int) -> int:
    """Return the price of so many sheets, the cheapest that can be had.

    >>> cheapest([Bed(9, 9, 5), Bed(9, 9, 1, at_most=2)], 4)
    12
    """
    price = 0
    for bed in sorted(beds, key=lambda bed: bed.price):
        taken = count if bed.at_most is None else min(count, bed.at_most)
        price += taken * bed.price
        count -= taken
    return price
