"""Each part in each of its turns, and the depths to which two of them can overlap."""

from __future__ import annotations

from typing import TYPE_CHECKING

from dielines.packing.order import Placed, Work
from dielines.packing.strips.no_fit import Lying, depths, lying, no_fit, reach
from dielines.packing.strips.outline import StripOrder

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

#: Work is counted in cells of arrays; whatever is done once for a whole array is worth so many.
CALL = 2000


class Fits:
    """The parts of an order as they may lie; depths are worked out when they are first asked for.

    ``lying[n]`` is called *n* elsewhere; ``of[item]`` lists those of one part. Turns
    that look the same are listed once.
    """

    def __init__(self, order: StripOrder, work: Work) -> None:
        self.pitch = order.pitch
        self.work = work
        self.lying: list[Lying] = []
        kinds = [self._listed(order, kind) for kind in range(len(order.outlines))]
        self.items = [kind for kind, count in enumerate(order.counts) for _ in range(count)]
        self.of = [kinds[kind] for kind in self.items]
        #: offsets in pitches at which two of them can overlap: at the left, right, below, above
        self.near = [[reach(a, b, order.pitch) for b in self.lying] for a in self.lying]
        self._depths: list[list[NDArray[np.int32] | None]]
        self._depths = [[None] * len(self.lying) for _ in self.lying]

    def _listed(self, order: StripOrder, kind: int) -> tuple[int, ...]:
        found: dict[frozenset[frozenset[tuple[int, int]]], int] = {}
        for quarters in order.turns[kind]:
            one = lying(kind, order.outlines[kind], quarters, order.gap)
            key = frozenset(frozenset(ring) for ring in one.outline.rings)
            if one.height <= order.width and key not in found:
                found[key] = len(self.lying)
                self.lying.append(one)
        return tuple(found.values())

    def depths(self, one: int, other: int) -> NDArray[np.int32]:
        """Return how deep *other* lies in *one*, by its offset; see ``no_fit``."""
        known = self._depths[one][other]
        return self._measured(one, other) if known is None else known

    def _measured(self, one: int, other: int) -> NDArray[np.int32]:
        import numpy as np

        a, b = self.lying[one], self.lying[other]
        found = depths(no_fit(a, b, self.pitch))
        self._depths[one][other] = found
        self._depths[other][one] = np.ascontiguousarray(found[::-1, ::-1])
        one_corners, other_corners = sum(map(len, a.guarded)), sum(map(len, b.pieces))
        corners = one_corners * len(b.pieces) + other_corners * len(a.pieces)
        columns = len(a.pieces) * len(b.pieces) * found.shape[0]
        self.work.spend(CALL * (50 + corners + columns) + 40 * found.size)
        return found

    def placed(self, item: int, one: int, x: int, y: int) -> Placed:
        """Return where a part lies, with x and y in pitches, in units of the order."""
        there = self.lying[one]
        return Placed(self.items[item], x * self.pitch, y * self.pitch, there.quarters)
