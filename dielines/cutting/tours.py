"""Short tours over paths that may each be entered in several ways.

Nearest neighbour first; then links are exchanged (2-opt: Croes, "A method for
solving traveling-salesman problems", 1958) and short rows are moved (Or's
exchange, 1976) until nothing helps; then two neighbouring rows change places and
what is near is mended again, which is kept unless it is longer (iterated local
search: Lourenço, Martin and Stützle, 2003). For an order that stands, the best
ways to run its paths are found exactly, by dynamic programming.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from .entries import Place, Way

NEAR = 8  #: neighbours of each path that are tried beside it
LONGEST_ROW = 3  #: paths that are moved together
WIDEST_KICK = 9  #: paths in each of the rows that change places
#: Three numbers whose multiples spread evenly over a cube (powers of the root of
#: x ** 4 = x + 1, as 32 bits), so that every place of a tour gets its turn.
_SPREAD = (3518319155, 2882110345, 2360945575)
_BITS = 32


class Steps:
    """How many steps may still be taken, counted and never timed."""

    def __init__(self, limit: int) -> None:
        self.limit = limit
        self.spent = 0

    @property
    def are_over(self) -> bool:
        """Whether nothing more shall be tried."""
        return self.spent >= self.limit


def tour(
    stops: Sequence[Sequence[Way]],
    start: Place | None,
    ends: Sequence[Place],
    steps: Steps,
) -> list[tuple[int, int]]:
    """Return a short tour over *stops* as (number of the stop, number of its way).

    *start* is where the tool comes from, if that matters; at the end it goes on to
    the nearest of *ends*, if there are any. Nothing is proved about its length.
    """
    search = _Search(stops, start, ends, steps)
    search.nearest_first()
    search.refit(1, search.count)
    search.mend(list(search.at[1:-1]))
    search.refit(1, search.count)
    search.kick_until_over()
    return search.found()


def apart(a: Place, b: Place) -> int:
    """Return the distance, in whole micrometres rounded down."""
    return math.isqrt((a[0] - b[0]) ** 2 + (a[1] - b[1]) ** 2)


class _Search:
    """A tour and what is tried on it.

    Position 0 is where the tool comes from and the last one where it goes on to;
    stops are numbered from 1. ``into`` and ``out`` are the points at each position
    where the tool is set down and lifted.
    """

    def __init__(
        self,
        stops: Sequence[Sequence[Way]],
        start: Place | None,
        ends: Sequence[Place],
        steps: Steps,
    ) -> None:
        self.count = len(stops)
        self.steps = steps
        self.ways: list[list[tuple[int, int]]] = [[(0, 0)]]
        places: list[Place] = []
        for ways in stops:
            first = len(places) + 2
            if ways[0].into == ways[0].out:
                self.ways.append([(first + i, first + i) for i in range(len(ways))])
                places += [way.into for way in ways]
            else:
                self.ways.append([(first, first + 1), (first + 1, first)])
                places += ways[0]
        self.ways.append([(1, 1)])
        self.apart = _distances(places, start, ends)
        self.near = _neighbours(self.ways, self.apart)
        self.at = list(range(self.count + 2))
        self.place = list(range(self.count + 2))
        self.into = [ways[0][0] for ways in self.ways]
        self.out = [ways[0][1] for ways in self.ways]
        self.length = 0
        self.low = self.high = 0

    def found(self) -> list[tuple[int, int]]:
        """Return the tour as numbers of stops and ways."""
        return [
            (self.at[i] - 1, self.ways[self.at[i]].index((self.into[i], self.out[i])))
            for i in range(1, self.count + 1)
        ]

    def nearest_first(self) -> None:
        """Go to whatever is nearest, again and again."""
        left = list(range(1, self.count + 1))
        here = 0
        for i in range(1, self.count + 1):
            row = self.apart[here]
            _, stop, into, out = min(
                (row[into], stop, into, out) for stop in left for into, out in self.ways[stop]
            )
            self.steps.spent += len(left)
            left.remove(stop)
            self.at[i], self.into[i], self.out[i] = stop, into, out
            self.place[stop] = i
            here = out
        self.length = self._length()

    def _length(self) -> int:
        return sum(self.apart[self.out[i]][self.into[i + 1]] for i in range(self.count + 1))

    # what mends a tour

    def mend(self, stops: list[int]) -> None:
        """Try everything near *stops*, and near whatever changed, until nothing helps."""
        waiting = [False] * (self.count + 2)
        for stop in stops:
            waiting[stop] = True
        while stops and not self.steps.are_over:
            stop = stops.pop()
            waiting[stop] = False
            changed = self._bettered(stop)
            for other in changed:
                if not waiting[other] and 0 < other <= self.count:
                    waiting[other] = True
                    stops.append(other)

    def _bettered(self, stop: int) -> list[int]:
        """Make the tour shorter near *stop* and return what changed; nothing if that fails."""
        for other in self.near[stop]:
            i, j = self.place[stop], self.place[other]
            changed = self._exchanged(min(i, j), max(i, j)) or self._moved(i, j)
            if changed:
                return changed
        return []

    def _exchanged(self, i: int, j: int) -> list[int]:
        """Turn the row between positions *i* and *j*, one of both included, if that is shorter."""
        apart, into, out = self.apart, self.into, self.out
        self.steps.spent += 2
        for a, b in ((i + 1, j), (i, j - 1)):
            if a < b:
                gain = (
                    apart[out[a - 1]][into[a]] + apart[out[b]][into[b + 1]]
                    - apart[out[a - 1]][out[b]] - apart[into[a]][into[b + 1]]
                )  # fmt: skip
                if gain > 0:
                    self._turn(a, b)
                    self.length -= gain
                    return self.at[a - 1 : a + 1] + self.at[b : b + 2]
        return []

    def _turn(self, a: int, b: int) -> None:
        self._lay(a, *self._turned(a, b))

    def _turned(self, a: int, b: int) -> _Row:
        """Return what stands at *a* to *b*, run the other way."""
        return self.at[a : b + 1][::-1], self.out[a : b + 1][::-1], self.into[a : b + 1][::-1]

    def _lay(self, first: int, at: list[int], into: list[int], out: list[int]) -> None:
        """Put a row of stops and their points from position *first* on."""
        behind = first + len(at)
        self.at[first:behind], self.into[first:behind], self.out[first:behind] = at, into, out
        for position, stop in enumerate(at, first):
            self.place[stop] = position
        self.low, self.high = min(self.low, first), max(self.high, behind - 1)

    def _moved(self, i: int, j: int) -> list[int]:
        """Move a short row that starts or ends at *i* beside position *j*, if that is shorter."""
        for size in range(1, LONGEST_ROW + 1):
            for a in (i, i - size + 1) if size > 1 else (i,):
                b = a + size - 1
                if a < 1 or b > self.count or a <= j <= b:
                    continue
                for gap in (j, j - 1):
                    if not a - 1 <= gap <= b:
                        changed = self._moved_row(a, b, gap)
                        if changed:
                            return changed
        return []

    def _moved_row(self, a: int, b: int, gap: int) -> list[int]:
        """Move the row at *a* to *b* behind position *gap*, run as is best, if that is shorter."""
        apart, into, out = self.apart, self.into, self.out
        left, right = out[gap], into[gap + 1]
        bar = (
            apart[out[a - 1]][into[a]] + apart[out[b]][into[b + 1]]
            - apart[out[a - 1]][into[b + 1]] + apart[left][right]
        )  # fmt: skip
        ends = self.ways[self.at[a]] if a == b else [(into[a], out[b]), (out[b], into[a])]
        self.steps.spent += len(ends)
        cost, best = min(
            (apart[left][first] + apart[last][right], i) for i, (first, last) in enumerate(ends)
        )
        if cost >= bar:
            return []
        changed = [self.at[a - 1], self.at[a], self.at[b], self.at[b + 1], *self.at[gap : gap + 2]]
        row = (
            self._turned(a, b)
            if best == 1
            else (self.at[a : b + 1], into[a : b + 1], out[a : b + 1])
        )
        if a == b:
            row = ([self.at[a]], [ends[best][0]], [ends[best][1]])
        self._shift(a, b, gap, row)
        self.length -= bar - cost
        return changed

    def _shift(self, a: int, b: int, gap: int, row: _Row) -> None:
        low, high = (gap + 1, a) if gap < a else (b + 1, gap + 1)
        between = self.at[low:high], self.into[low:high], self.out[low:high]
        if gap < a:
            self._lay(gap + 1, *_joined(row, between))
        else:
            self._lay(a, *_joined(between, row))

    def refit(self, a: int, b: int) -> None:
        """Choose the best ways for the stops at *a* to *b*, in the order in which they stand."""
        if a > b:
            return
        apart = self.apart
        costs, traces = [0], []
        outs = [self.out[a - 1]]
        before = sum(apart[self.out[i - 1]][self.into[i]] for i in range(a, b + 2))
        for i in range(a, b + 2):
            ways = self.ways[self.at[i]] if i <= b else [(self.into[i], self.out[i])]
            self.steps.spent += len(ways) * len(outs) // 4
            best = [
                min(
                    (cost + apart[out][into], k)
                    for k, (cost, out) in enumerate(zip(costs, outs, strict=True))
                )
                for into, _ in ways
            ]
            costs, outs = [cost for cost, _ in best], [out for _, out in ways]
            traces.append([k for _, k in best])
        if costs[0] >= before:
            return
        self.length -= before - costs[0]
        way = 0
        for i in range(b, a - 1, -1):
            way = traces[i + 1 - a][way]
            self.into[i], self.out[i] = self.ways[self.at[i]][way]

    # what shakes it

    def kick_until_over(self) -> None:
        """Kick the tour and mend it until the steps are over; keep what is not longer."""
        number = 0
        while self.count > 2 and not self.steps.are_over:
            number += 1
            self._kick_and_mend(number)

    def _kick_and_mend(self, number: int) -> None:
        kept = self.at[:], self.into[:], self.out[:]
        length, spent = self.length, self.steps.spent
        p, q, r = self._rows(number)
        self.low = self.high = p
        changed = [self.at[i] for i in (p - 1, p, q - 1, q, r - 1, r)]
        self._swap(p, q, r)
        self.mend([stop for stop in changed if 0 < stop <= self.count])
        self.refit(max(1, self.low - 1), min(self.count, self.high + 1))
        self.steps.spent = max(self.steps.spent, spent + 1)
        if self.length > length:
            self.at, self.into, self.out = kept
            self.length = length
            for position in range(self.low, self.high + 1):
                self.place[self.at[position]] = position

    def _rows(self, number: int) -> tuple[int, int, int]:
        """Return where two neighbouring rows start, and where the second one ends."""
        most = min(WIDEST_KICK, self.count // 2)
        first, second, third = (_share(number, i) for i in range(3))
        one, two = 1 + (first * most >> _BITS), 1 + (second * most >> _BITS)
        start = 1 + (third * (self.count - one - two + 1) >> _BITS)
        return start, start + one, start + one + two

    def _swap(self, p: int, q: int, r: int) -> None:
        """Let the rows at *p* to *q* - 1 and *q* to *r* - 1 change places."""
        apart, into, out = self.apart, self.into, self.out
        before = (
            apart[out[p - 1]][into[p]] + apart[out[q - 1]][into[q]] + apart[out[r - 1]][into[r]]
        )
        self._shift(p, q - 1, r - 1, (self.at[p:q], into[p:q], out[p:q]))
        s = p + r - q
        after = apart[out[p - 1]][into[p]] + apart[out[s - 1]][into[s]] + apart[out[r - 1]][into[r]]
        self.length += after - before


_Row = tuple[list[int], list[int], list[int]]


def _joined(first: _Row, second: _Row) -> _Row:
    return first[0] + second[0], first[1] + second[1], first[2] + second[2]


def _share(number: int, axis: int) -> int:
    return number * _SPREAD[axis] & ((1 << _BITS) - 1)


def _distances(
    places: Sequence[Place], start: Place | None, ends: Sequence[Place]
) -> list[list[int]]:
    """Return the distance between all points: 0 is the start, 1 the end, then *places*."""
    rows = [[0, min((apart(a, end) for end in ends), default=0)] for a in places]
    for row, a in zip(rows, places, strict=True):
        row[0] = apart(a, start) if start else 0
        row += [apart(a, b) for b in places]
    head = [[0, 0, *(row[i] for row in rows)] for i in (0, 1)]
    return [*head, *rows]


def _neighbours(
    ways: Sequence[Sequence[tuple[int, int]]], apart: Sequence[Sequence[int]]
) -> list[list[int]]:
    """Return the stops nearest to each stop, by their nearest points."""
    points = [[into for into, _ in each] for each in ways]
    spans = [(each[0], each[-1] + 1) for each in points]
    found: list[list[int]] = [[]]
    for stop in range(1, len(ways) - 1):
        near = sorted(
            (min(min(apart[p][low:high]) for p in points[stop]), other)
            for other, (low, high) in enumerate(spans[1:-1], 1)
            if other != stop
        )
        found.append([other for _, other in near[:NEAR]])
    return found
