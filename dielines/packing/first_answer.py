"""What there is before the first linear programme: a fast answer, and sheets with one box."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from .greedy import greedy_patterns
from .lying import ways_to_lie
from .order import Filler, Leaf, Order, Pattern, Placed, Work
from .thinning import Run, joined


def first_runs(order: Order, fillers: Sequence[Filler], work: Work) -> list[Run]:
    """Return runs that place exactly what is ordered; raises NoRoom where that cannot be.

    It always comes to its end, however little work is left.
    """
    kinds = [kind for kind, count in enumerate(order.counts) for _ in range(count)]
    patterns = greedy_patterns(order, fillers, kinds, work)
    return joined([(pattern, 1) for pattern in patterns])


def sheets_alone(order: Order) -> list[Pattern]:
    """Return, for each kind of sheet and of box ordered that fits it, the sheet with just one."""
    return [
        Pattern(bed, (Placed(kind, 0, 0, ways[0].quarters),), Leaf(kind, ways[0].quarters))
        for bed, kinds in enumerate(ways_to_lie(order))
        for kind, ways in enumerate(kinds)
        if ways and order.counts[kind]
    ]


def listed(order: Order, bed: int, counts: Sequence[int], kinds: Iterable[int]) -> list[int]:
    """Return the boxes of *kinds*, in that order, no more of each than the area allows."""
    area = order.beds[bed].area
    return [
        kind for kind in kinds for _ in range(min(counts[kind], area // order.boxes[kind].area))
    ]
