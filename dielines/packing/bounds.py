"""What an order costs at least, proved by weights of which no sheet can hold much.

The weight of a box is the product of a dual feasible function of its width and one of
its height. A box that may turn has the smaller of its two products. No sheet holds more
than 1 of such a weight, whatever the functions, so all pairs of functions are tried.

With several kinds of sheet a box weighs the least that it would on any of them, each
taken at its price: then no sheet holds more than its price.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import reduce
from math import ceil, gcd
from typing import TYPE_CHECKING

from dielines.packing.dual_feasible import MOST_MULTIPLES, dual_feasible
from dielines.packing.lying import Lying, Ways, refuse_misfits, ways_to_lie
from dielines.packing.order import Order

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Numbers = NDArray[np.int64]
    Floats = NDArray[np.float64]

ROUNDS = 3  #: of choosing the functions of each sheet anew, where there are several
LARGEST = 1 << 62  #: beyond it whole numbers of 64 bits could overflow


def dff_bound(order: Order) -> int:
    """Return a price below which the order cannot be had; proved.

    Raises NoRoom where a box fits no sheet.
    """
    ways = ways_to_lie(order)
    refuse_misfits(order, ways)
    if not any(order.counts):
        return 0
    if len(order.beds) == 1:
        return order.beds[0].price * _sheets(_weights(order, 0, ways), order.counts)
    return _price(order, ways)


@dataclass(frozen=True)
class _Weights:
    """The functions for one kind of sheet, at the sides of each kind of box as it may lie.

    Rows are functions; columns are kinds of box, first as drawn and then turned. Where a
    box cannot lie so, the column is that of the other way.
    """

    widths: Numbers
    heights: Numbers
    width_scales: Numbers
    height_scales: Numbers

    def row(self, function: int) -> Numbers:
        """Return the weights of the kinds with one function for widths and each for heights."""
        import numpy as np

        products = self.widths[function] * self.heights
        kinds = products.shape[1] // 2
        least: Numbers = np.minimum(products[:, :kinds], products[:, kinds:])
        return least

    def pair(self, function: int, other: int) -> tuple[Fraction, ...]:
        """Return the weight of each kind, of which a sheet holds at most 1."""
        scale = int(self.width_scales[function] * self.height_scales[other])
        return tuple(Fraction(int(weight), scale) for weight in self.row(function)[other])


def _weights(order: Order, number: int, ways: Ways) -> _Weights:
    """Return the functions for one kind of sheet; a box that does not fit it weighs nothing."""
    import numpy as np

    bed, lying = order.beds[number], ways[number]
    either = [_both(kind_ways) for kind_ways in lying]
    columns = [both[0] for both in either] + [both[1] for both in either]
    widths = dual_feasible(bed.width, [way.width for way in columns])
    heights = dual_feasible(bed.height, [way.height for way in columns])
    kind = _kind_of_number(order, number)
    return _Weights(
        np.array([dual.values for dual in widths], kind),
        np.array([dual.values for dual in heights], kind),
        np.array([dual.scale for dual in widths], kind),
        np.array([dual.scale for dual in heights], kind),
    )


def _kind_of_number(order: Order, number: int) -> type:
    """Return the fast kind of whole number where no sum of weights can overflow it."""
    import numpy as np

    most = MOST_MULTIPLES**2 * order.beds[number].area * sum(order.counts)
    return np.int64 if most < LARGEST else object


def _both(ways: Sequence[Lying]) -> tuple[Lying, Lying]:
    return (ways[0], ways[-1]) if ways else (Lying(0, 0, 0), Lying(0, 0, 0))


def _sheets(weights: _Weights, counts: Sequence[int]) -> int:
    """Return how many sheets of one kind are needed at least."""
    import numpy as np

    many = np.array(counts)
    most = 0
    for function, scale in enumerate(weights.width_scales):
        totals = weights.row(function) @ many
        most = max(most, int((-(-totals // (weights.height_scales * scale))).max()))
    return most


def _price(order: Order, ways: Ways) -> int:
    """Return what the order costs at least where there are several kinds of sheet."""
    every = [number for number, bed_ways in enumerate(ways) if any(bed_ways)]
    weights = {number: _weights(order, number, ways) for number in every}
    endless = [number for number in every if order.beds[number].at_most is None]
    found = [_Relaxed(order, ways, weights, tuple(every)).bound()]
    if endless and len(endless) < len(every):
        found.append(_Relaxed(order, ways, weights, tuple(endless)).bound())
    step = reduce(gcd, (order.beds[number].price for number in every)) or 1
    return max(step * ceil(bound / step) for bound in found)


@dataclass(frozen=True)
class _Relaxed:
    """An order where the sheets *counted* decide the weights of the boxes.

    The others are there at most so many times, and each can be worth more than its
    price: so much is taken off the bound.
    """

    order: Order
    ways: Ways
    weights: Mapping[int, _Weights]
    counted: tuple[int, ...]

    def bound(self) -> Fraction:
        """Return a price that no plan can go below."""
        weighed = self._weighed(self._chosen())
        total = sum((w * n for w, n in zip(weighed, self.order.counts, strict=True)), Fraction(0))
        others = (bed for bed in self.weights if bed not in self.counted)
        return max(Fraction(0), total - sum(self._saved(bed, weighed, total) for bed in others))

    def _chosen(self) -> dict[int, tuple[int, int]]:
        """Return the pair of functions for each sheet counted, improved in turn."""
        chosen: dict[int, tuple[int, int]] = {}
        for _ in range(ROUNDS):
            for bed in self.counted:
                chosen[bed] = self._best_pair(bed, self._least(chosen, bed))
        return chosen

    def _least(self, chosen: dict[int, tuple[int, int]], besides: int) -> Floats:
        """Return the weight of each kind on the sheets chosen besides one, in money."""
        import numpy as np

        least = np.full(len(self.order.counts), np.inf)
        for bed, (function, other) in chosen.items():
            if bed != besides:
                least = np.minimum(least, self._worth(bed, function)[other])
        return least

    def _worth(self, bed: int, function: int) -> Floats:
        """Return the weights in money with one function for widths and each for heights."""
        import numpy as np

        weights, price = self.weights[bed], self.order.beds[bed].price
        scales = weights.height_scales * weights.width_scales[function]
        worth: Floats = (price * weights.row(function) / scales[:, None]).astype(np.float64)
        worth[:, [not ways for ways in self.ways[bed]]] = np.inf
        return worth

    def _best_pair(self, bed: int, least: Floats) -> tuple[int, int]:
        import numpy as np

        many, best, pair = np.array(self.order.counts), -1.0, (0, 0)
        for function in range(len(self.weights[bed].widths)):
            worth = np.minimum(self._worth(bed, function), least)
            totals = np.where(np.isfinite(worth), worth, 0) @ many
            other = int(totals.argmax())
            if totals[other] > best:
                best, pair = float(totals[other]), (function, other)
        return pair

    def _weighed(self, chosen: dict[int, tuple[int, int]]) -> list[Fraction]:
        """Return the least weight of each kind in money; nothing for one that fits none."""
        least: list[Fraction | None] = [None] * len(self.order.counts)
        for bed, pair in chosen.items():
            price = self.order.beds[bed].price
            for kind, weight in enumerate(self.weights[bed].pair(*pair)):
                if self.ways[bed][kind]:
                    before = least[kind]
                    worth = price * weight
                    least[kind] = worth if before is None else min(before, worth)
        return [weight or Fraction(0) for weight in least]

    def _saved(self, number: int, weighed: Sequence[Fraction], total: Fraction) -> Fraction:
        """Return how much more than their price the sheets of one kind can be worth."""
        bed = self.order.beds[number]
        worth = min(total, self._most_on(number, weighed))
        return (bed.at_most or 0) * max(Fraction(0), worth - bed.price)

    def _most_on(self, number: int, weighed: Sequence[Fraction]) -> Fraction:
        """Return a weight that no filling of a sheet exceeds, told by the areas."""
        bed = self.order.beds[number]
        fitting = [kind for kind, ways in enumerate(self.ways[number]) if ways]
        areas = (weighed[kind] * bed.area / self.order.boxes[kind].area for kind in fitting)
        return max(areas, default=Fraction(0))
