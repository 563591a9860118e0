"""Below what no tour can be: bounds and exact optima to hold short tours against.

The Held-Karp bound is the optimum of the linear relaxation of the tour in which
every set of stops is entered and left (Held and Karp, "The traveling-salesman
problem and minimum spanning trees", 1970): a cut that the relaxation lacks is
looked for by maximum flow and added until none is. An end of a line is left by one
link, the line itself joining both; a closed path is entered at one of its points.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence

import numpy as np
from scipy.optimize import linprog
from scipy.sparse import csr_matrix, vstack
from scipy.sparse.csgraph import breadth_first_order, maximum_flow

from dielines.cutting.entries import Place, Way
from dielines.cutting.ground import distance

UNIT = 10**6  # of flow, which is counted in whole numbers
SLACK = 2_000  # by so much a cut may be too small before it is added
Stops = Sequence[Sequence[Way]]


def tour_length(stops: Stops, tour: Sequence[tuple[int, int]]) -> float:
    """Return the lifted way of a tour (number of stop, number of way), mm."""
    ways = [stops[stop][way] for stop, way in tour]
    return sum(distance(a.out, b.into) for a, b in itertools.pairwise(ways)) / 1000


def shortest(stops: Stops, start: Place | None = None, goes_to: Sequence[Place] = ()) -> float:
    """Return the length of the shortest tour of few stops, mm; by dynamic programming over sets."""
    ends = [(stop, way) for stop, ways in enumerate(stops) for way in ways]
    reached = {
        (1 << stop, i): distance(start, way.into) if start else 0
        for i, (stop, way) in enumerate(ends)
    }
    for _ in range(len(stops) - 1):
        longer: dict[tuple[int, int], int] = {}
        for (done, i), cost in reached.items():
            for j, (stop, way) in enumerate(ends):
                if not done >> stop & 1:
                    key = done | 1 << stop, j
                    total = cost + distance(ends[i][1].out, way.into)
                    longer[key] = min(longer.get(key, total), total)
        reached = longer
    leaving = [min((distance(way.out, end) for end in goes_to), default=0) for _, way in ends]
    return min(cost + leaving[i] for (_, i), cost in reached.items()) / 1000


def held_karp(stops: Stops) -> float:
    """Return a length that no tour of *stops* is below, mm; start and end are free."""
    relaxation = _Relaxation(stops)
    while True:
        value, used = relaxation.solved()
        cuts = list(relaxation.missing_cuts(used))
        if not cuts:
            return value - 1e-6 * abs(value) - 1e-6 * len(stops)
        relaxation.cuts += cuts


class _Relaxation:
    """The relaxation with the cuts found so far; the last point is one from anywhere to anywhere."""

    def __init__(self, stops: Stops) -> None:
        places, owner = [], []
        for stop, ways in enumerate(stops):
            for place in dict.fromkeys(way.into for way in ways):
                places.append(place)
                owner.append(stop)
        self.count = len(places)
        self.is_line = [stops[stop][0].into != stops[stop][0].out for stop in owner]
        links = [
            (a, b)
            for a in range(self.count)
            for b in range(a + 1, self.count)
            if owner[a] != owner[b]
        ]
        costs = [distance(places[a], places[b]) / 1000 for a, b in links]
        links += [(a, self.count) for a in range(self.count)]
        self.links = np.array(links)
        self._nodes(owner)
        closed = [p for p in range(self.count) if not self.is_line[p]]
        self.costs = np.array(costs + [0.0] * (self.count + len(closed)))
        self._degrees(owner, closed)
        self.cuts: list[tuple[csr_matrix, float]] = []

    def _nodes(self, owner: list[int]) -> None:
        """Number the nodes of the flow: each end of a line, each closed path, and the last point."""
        keys = [("end", p) if self.is_line[p] else ("stop", owner[p]) for p in range(self.count)]
        numbers = {key: number for number, key in enumerate(dict.fromkeys(keys))}
        self.last = len(numbers)
        self.node = np.array([*(numbers[key] for key in keys), self.last])
        ends = [p for p in range(self.count - 1) if self.is_line[p] and owner[p] == owner[p + 1]]
        pairs = [(self.node[p], self.node[p + 1]) for p in ends]
        self.lines = np.array(pairs, int).reshape(-1, 2)

    def _degrees(self, owner: list[int], closed: list[int]) -> None:
        """Say how many links meet at each point, and that a closed path uses one point in all."""
        size, number = len(self.links), np.arange(len(self.links))
        rows = [self.links[:, 0], self.links[:, 1], np.array(closed, int)]
        used = size + np.arange(len(closed))
        columns, values = [number, number, used], [np.ones(2 * size), np.full(len(closed), -2.0)]
        stops = list(dict.fromkeys(owner[p] for p in closed))
        rows.append(np.array([self.count + 1 + stops.index(owner[p]) for p in closed], int))
        columns.append(used)
        values.append(np.ones(len(closed)))
        shape = self.count + 1 + len(stops), size + len(closed)
        where = np.concatenate(rows), np.concatenate(columns)
        self.equal = csr_matrix((np.concatenate(values), where), shape=shape)
        self.sums = [*map(float, self.is_line), 2.0, *[1.0] * len(stops)]

    def solved(self) -> tuple[float, np.ndarray]:
        """Return the optimum with the cuts so far, and how much each link is used."""
        more = {}
        if self.cuts:
            more["A_ub"] = vstack([row for row, _ in self.cuts])
            more["b_ub"] = [most for _, most in self.cuts]
        found = linprog(
            self.costs, A_eq=self.equal, b_eq=self.sums, bounds=(0, 1), method="highs-ds", **more
        )
        return found.fun, found.x[: len(self.links)]

    def missing_cuts(self, used: np.ndarray) -> Iterator[tuple[csr_matrix, float]]:
        """Yield a row for each set of nodes that is entered and left less than once."""
        ends = np.concatenate([self.node[self.links], self.lines])
        weights = np.concatenate([used, np.ones(len(self.lines))])
        where = np.concatenate([ends, ends[:, ::-1]]).T
        doubled = np.concatenate([weights, weights])
        capacity = csr_matrix((doubled, tuple(where)), shape=(self.last + 1,) * 2)
        whole = (capacity * UNIT).astype(np.int32)
        seen: set[bytes] = set()
        for node in range(self.last):
            flow = maximum_flow(whole, self.last, node)
            if flow.flow_value < 2 * UNIT - SLACK:
                inside = self._cut_off(whole - flow.flow)
                if inside.tobytes() not in seen:
                    seen.add(inside.tobytes())
                    yield self._row(inside)

    def _cut_off(self, left: csr_matrix) -> np.ndarray:
        left.data[left.data < 0] = 0
        left.eliminate_zeros()
        inside = np.ones(self.last + 1, bool)
        inside[breadth_first_order(left, self.last, return_predecessors=False)] = False
        return inside

    def _row(self, inside: np.ndarray) -> tuple[csr_matrix, float]:
        """Return the row that asks for two links across the border of a set; a line across is one."""
        across = inside[self.node[self.links]]
        columns = np.nonzero(across[:, 0] != across[:, 1])[0]
        lines = int((inside[self.lines[:, 0]] != inside[self.lines[:, 1]]).sum())
        where = np.zeros(len(columns), int), columns
        row = csr_matrix((-np.ones(len(columns)), where), shape=(1, len(self.costs)))
        return row, float(lines - 2)
