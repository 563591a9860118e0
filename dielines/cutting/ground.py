"""What does not change while a tour is looked for: points, distances, and what is near what.

Distances are whole micrometres, so that sums and comparisons are exact and the same
on every machine.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from .entries import Place, Way

NEAR = 8  #: neighbours that are told of each stop
COMES_FROM, GOES_TO = 0, 1  #: the points before and after all stops

Ends = tuple[int, int]  #: the points where the tool is set down and lifted


@dataclass(frozen=True)
class Ground:
    """Stops are numbered from 1; stop 0 is where the tool comes from, the last where it goes to."""

    ways: list[list[Ends]]  #: of each stop
    apart: list[list[int]]  #: from point to point
    near: list[list[tuple[int, int]]]  #: for each stop (distance, other stop), the nearest first

    @property
    def count(self) -> int:
        """Stops, without both ends."""
        return len(self.ways) - 2


def ground_of(stops: Sequence[Sequence[Way]], start: Place | None, ends: Sequence[Place]) -> Ground:
    """Return the ground of *stops*; without *start* or *ends* that side costs nothing."""
    ways, places = [[(COMES_FROM, COMES_FROM)]], [(0, 0), (0, 0)]
    for each in stops:
        ways.append(list(_numbered(each, len(places))))
        places += [way.into for way in each]
    ways.append([(GOES_TO, GOES_TO)])
    apart = _distances(places[2:], start, ends)
    return Ground(ways, apart, _neighbours(ways, apart))


def distance(a: Place, b: Place) -> int:
    """Return how far apart two places are, in whole micrometres, rounded down."""
    return math.isqrt((a[0] - b[0]) ** 2 + (a[1] - b[1]) ** 2)


def _numbered(ways: Sequence[Way], first: int) -> Iterator[Ends]:
    """Yield each way by the numbers of its points; every point is where one of the ways begins."""
    numbers = {way.into: number for number, way in reversed(list(enumerate(ways, first)))}
    for way in ways:
        yield numbers[way.into], numbers[way.out]


def _distances(
    places: Sequence[Place], start: Place | None, ends: Sequence[Place]
) -> list[list[int]]:
    rows = [
        [
            distance(a, start) if start else 0,
            min((distance(a, end) for end in ends), default=0),
            *(distance(a, b) for b in places),
        ]
        for a in places
    ]
    return [*([0, 0, *(row[side] for row in rows)] for side in (COMES_FROM, GOES_TO)), *rows]


def _neighbours(
    ways: Sequence[Sequence[Ends]], apart: Sequence[Sequence[int]]
) -> list[list[tuple[int, int]]]:
    """Return the stops nearest to each stop, by their nearest points."""
    points = [sorted(point for ends in each for point in ends) for each in ways]
    spans = [(each[0], each[-1] + 1) for each in points]
    found: list[list[tuple[int, int]]] = [[] for _ in ways]
    for stop in range(1, len(ways) - 1):
        rows = [apart[point] for point in range(*spans[stop])]
        found[stop] = sorted(
            (min(min(row[low:high]) for row in rows), other)
            for other, (low, high) in enumerate(spans[1:-1], 1)
            if other != stop
        )[:NEAR]
    return found
