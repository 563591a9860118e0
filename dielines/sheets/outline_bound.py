"""A price that no layout of real outlines can be below.

Wherever the parts lie, the rectangles inside them do not overlap: what those need is
needed. Besides, some parts can never share a sheet: of these each takes one. Both
together bound what any layout costs.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from ..packing.bounds import dff_bound
from ..packing.exact_free import exact_pricer
from ..packing.first_answer import sheets_alone
from ..packing.master import columns_of
from ..packing.order import Bed, Box, Work
from ..packing.outlines.apart import CELLS, can_lie_together, inside_of, most_apart
from ..packing.outlines.inside import largest_rectangle_inside
from ..packing.outlines.rings import Ring, turned_rings
from ..packing.relaxed import relaxed
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


def least_price(problem: Problem, rings: Sequence[Sequence[Ring]], goal: int, work: Work) -> int:
    """Return a price that no layout of the real outlines can be below.

    No more *work* is done once it has come up to the *goal*.
    """
    inner = [
        _inner_box(one, ring, problem) for one, ring in zip(problem.wanted, rings, strict=True)
    ]
    order = replace(problem.order, boxes=tuple(inner))
    pairs = Pairs(problem, rings)
    bound = max(dff_bound(order), cheapest(order.beds, pairs.apart()))
    if bound >= goal:
        return bound
    pricer = exact_pricer(order, pairs.misfits())
    return relaxed(order, pricer, columns_of(order, sheets_alone(order)), bound, work).bound


def _inner_box(one: Wanted, rings: Sequence[Ring], problem: Problem) -> Box:
    """Return the largest rectangle inside a part, with the gap, in units rounded down."""
    across, up = largest_rectangle_inside(rings)
    gap, unit = float(problem.gap.mm), float(problem.scale.unit)
    wide, high = (max(int((side + gap) / unit + 1e-6), 1) for side in (across, up))
    return Box(wide, high, one.may_turn)


class Pairs:
    """Which of the larger kinds of part can share a sheet, looked at when it is asked for."""

    def __init__(self, problem: Problem, rings: Sequence[Sequence[Ring]]) -> None:
        order, self._gap = problem.order, float(problem.gap.mm)
        whole = max(bed.area for bed in order.beds)
        kinds = sorted(range(len(order.boxes)), key=lambda kind: (-order.boxes[kind].area, kind))
        self.kinds = [k for k in kinds if order.boxes[k].area > SMALL * whole][:MOST_KINDS]
        self._counts = order.counts
        self._sheets = sorted({tuple(float(side.mm) for side in r.size) for r in problem.rooms})
        self._cell = max(side for sheet in self._sheets for side in sheet) / CELLS
        self._lying = {
            kind: [
                inside_of(rings[kind], turn, self._cell, self._gap)
                for turn in ways_to_lie(problem.wanted[kind], problem)
            ]
            for kind in self.kinds
        }
        self._known: dict[tuple[int, int], bool] = {}

    def shares(self, one: int, other: int) -> bool:
        """Return whether one part of each of two kinds can share a sheet."""
        pair = min(one, other), max(one, other)
        if pair not in self._known:
            a, b = (self._lying[kind] for kind in pair)
            self._known[pair] = any(
                can_lie_together(a, b, wide + self._gap, high + self._gap, self._cell)
                for wide, high in self._sheets
            )
        return self._known[pair]

    def apart(self) -> int:
        """Return a number of parts of which no two can share a sheet."""
        kinds = self.kinds
        counts = [self._counts[kind] for kind in kinds]
        return most_apart(counts, lambda a, b: self.shares(kinds[a], kinds[b]))

    def misfits(self) -> list[tuple[int, ...]]:
        """Return every two parts that never share a sheet, as how many of each kind."""
        found = []
        for place, one in enumerate(self.kinds):
            for other in self.kinds[place:]:
                if not self.shares(one, other):
                    counts = [0] * len(self._counts)
                    counts[one] += 1
                    counts[other] += 1
                    found.append(tuple(counts))
        return found


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
