"""Short tours: kicked and mended again and again, while steps are left.

Iterated local search (Lourenço, Martin and Stützle, 2003): two neighbouring rows
change places, what is near is mended, and the result is kept unless it is longer.
"""

from __future__ import annotations

from collections.abc import Sequence

from .entries import Place, Way
from .ground import ground_of
from .steps import Steps
from .tours import Tour

LONGEST_KICKED = 50  #: stops in each of the rows that change places
#: The first three powers of 1 / 1.2207, the root of x ** 4 = x + 1, as 32 bits: their
#: multiples spread evenly over a cube, so that all places and sizes get their turn.
_SPREAD = (3518319155, 2882110345, 2360945575)
_BITS = 32


def short_tour(
    stops: Sequence[Sequence[Way]], start: Place | None, ends: Sequence[Place], steps: Steps
) -> list[tuple[int, int]]:
    """Return a short tour over *stops* as (number of the stop, number of its way).

    *start* is where the tool comes from, if that matters; at the end it goes on to
    the nearest of *ends*, if there are any. Nothing is proved about its length.
    """
    tour = Tour(ground_of(stops, start, ends), steps)
    count = tour.ground.count
    tour.go_to_the_nearest()
    tour.refit(1, count)
    tour.mend(tour.at[1:-1])
    tour.refit(1, count)
    number = 0
    while count > 2 and not steps.are_over:
        number += 1
        _kick(tour, number)
    return [
        (tour.at[i] - 1, tour.ground.ways[tour.at[i]].index((tour.into[i], tour.out[i])))
        for i in range(1, count + 1)
    ]


def _kick(tour: Tour, number: int) -> None:
    """Kick *tour* for the *number*-th time; it is no longer afterwards."""
    kept, length = tour.kept(), tour.length
    p, q, r = _rows(number, tour.ground.count)
    tour.low = tour.high = p
    tour.steps.take(10)
    tour.mend(tour.swap(p, q, r))
    tour.refit(max(1, tour.low - 1), min(tour.ground.count, tour.high + 1))
    if tour.length > length:
        tour.restore(kept, length)


def _rows(number: int, count: int) -> tuple[int, int, int]:
    """Return where two neighbouring rows start, and where the second one is over."""
    first, second, third = (number * step & ((1 << _BITS) - 1) for step in _SPREAD)
    most = min(LONGEST_KICKED, count // 2)
    one, two = 1 + (first * most >> _BITS), 1 + (second * most >> _BITS)
    start = 1 + (third * (count - one - two + 1) >> _BITS)
    return start, start + one, start + one + two
