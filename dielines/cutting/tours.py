"""A tour over stops that can each be run in several ways, and what can be changed in it.

Two exchanges mend it: a row of stops is turned round (2-opt: Croes, "A method for
solving traveling-salesman problems", 1958), or one stop is put elsewhere; to put rows
of two and three elsewhere as well (Or, 1976) was measured to gain nothing here. For an
order that stands, the best ways are found exactly, by dynamic programming.
"""

from __future__ import annotations

from .ground import Ground
from .steps import Steps

_Row = tuple[list[int], list[int], list[int]]


class Tour:
    """Which stop stands at each position, and at which points it is entered and left.

    Position 0 is where the tool comes from, the last where it goes to; neither moves.
    ``low`` and ``high`` are the outermost positions changed since they were last set.
    """

    def __init__(self, ground: Ground, steps: Steps) -> None:
        self.ground, self.steps = ground, steps
        self.apart = ground.apart
        self.at = list(range(ground.count + 2))
        self.place = list(self.at)  #: of each stop
        self.into = [ways[0][0] for ways in ground.ways]
        self.out = [ways[0][1] for ways in ground.ways]
        self.length = 0
        self.low = self.high = 0

    def go_to_the_nearest(self) -> None:
        """Go to whatever is nearest, again and again."""
        left = list(range(1, self.ground.count + 1))
        here = 0
        for position in range(1, self.ground.count + 1):
            row = self.apart[here]
            far, stop, into, out = min(
                (row[ends[0]], stop, *ends) for stop in left for ends in self.ground.ways[stop]
            )
            self.steps.take(len(left))
            left.remove(stop)
            self._lay(position, ([stop], [into], [out]))
            self.length += far
            here = out
        self.length += self.apart[here][self.into[-1]]

    def mend(self, stops: list[int]) -> None:
        """Try what can be changed at *stops*, and wherever something changed, until nothing helps."""
        waiting = set(stops)
        while stops and not self.steps.are_over:
            stop = stops.pop()
            waiting.discard(stop)
            for other in self._bettered(stop):
                if other not in waiting and 0 < other <= self.ground.count:
                    waiting.add(other)
                    stops.append(other)

    def _bettered(self, stop: int) -> list[int]:
        """Make the tour shorter at *stop* and return what changed; nothing where that fails.

        A change that helps adds a link that is shorter than one it takes away, so
        that only those stops are tried that are nearer than the next in the tour.
        """
        i = self.place[stop]
        apart, into, out = self.apart, self.into, self.out
        before, after = apart[out[i - 1]][into[i]], apart[out[i]][into[i + 1]]
        saved = before + after - apart[out[i - 1]][into[i + 1]]
        for far, other in self.ground.near[stop]:
            if far >= before and far >= after:
                break
            j = self.place[other]
            changed = (
                self._turned_round(min(i, j), max(i, j))
                or self._put_behind(i, j, saved)
                or self._put_behind(i, j - 1, saved)
            )
            if changed:
                return changed
        return []

    def _turned_round(self, i: int, j: int) -> list[int]:
        """Turn the row between *i* and *j*, one of both included, where that is shorter."""
        apart, into, out = self.apart, self.into, self.out
        self.steps.take(2)
        for a, b in ((i + 1, j), (i, j - 1)):
            gain = (
                apart[out[a - 1]][into[a]] + apart[out[b]][into[b + 1]]
                - apart[out[a - 1]][out[b]] - apart[into[a]][into[b + 1]]
            )  # fmt: skip
            if gain > 0:
                self._lay(a, self._reverse(a, b))
                self.length -= gain
                return self.at[a - 1 : a + 1] + self.at[b : b + 2]
        return []

    def _put_behind(self, i: int, gap: int, saved: int) -> list[int]:
        """Put the stop at *i* behind position *gap*, run as is best, where that is shorter.

        *saved* is what the tour is shorter without it.
        """
        if i - 1 <= gap <= i:
            return []
        apart, stop = self.apart, self.at[i]
        left, right = self.out[gap], self.into[gap + 1]
        ways = self.ground.ways[stop]
        self.steps.take(len(ways))
        costs = [apart[left][first] + apart[last][right] for first, last in ways]
        gain = saved + apart[left][right] - min(costs)
        if gain <= 0:
            return []
        changed = [*self.at[i - 1 : i + 2], *self.at[gap : gap + 2]]
        into, out = ways[costs.index(min(costs))]
        self._shift(i, i, gap, ([stop], [into], [out]))
        self.length -= gain
        return changed

    def swap(self, p: int, q: int, r: int) -> list[int]:
        """Let the rows from *p* and from *q* (up to before *r*) change places; return the stops at their ends."""
        apart, into, out = self.apart, self.into, self.out
        ends = [self.at[i] for i in (p - 1, p, q - 1, q, r - 1, r)]
        self.length += (
            apart[out[p - 1]][into[q]] + apart[out[r - 1]][into[p]] + apart[out[q - 1]][into[r]]
            - apart[out[p - 1]][into[p]] - apart[out[q - 1]][into[q]] - apart[out[r - 1]][into[r]]
        )  # fmt: skip
        self._shift(p, q - 1, r - 1, self._row(p, q - 1))
        return [stop for stop in dict.fromkeys(ends) if 0 < stop <= self.ground.count]

    def refit(self, a: int, b: int) -> None:
        """Choose the best ways for the stops at *a* to *b*, in the order in which they stand."""
        apart = self.apart
        costs, outs = [0], [self.out[a - 1]]
        traces: list[list[int]] = []
        before = sum(apart[self.out[i - 1]][self.into[i]] for i in range(a, b + 2))
        for i in range(a, b + 2):
            ways = self.ground.ways[self.at[i]] if i <= b else [(self.into[i], self.out[i])]
            self.steps.take(1 + len(ways) * len(outs) // 4)
            traces.append([])
            sums = []
            for into, _ in ways:
                row = apart[into]
                reached = [cost + row[out] for cost, out in zip(costs, outs, strict=True)]
                sums.append(min(reached))
                traces[-1].append(reached.index(sums[-1]))
            costs, outs = sums, [out for _, out in ways]
        if costs[0] < before:
            self.length += costs[0] - before
            self._take_ways(a, b, traces)

    def _take_ways(self, a: int, b: int, traces: list[list[int]]) -> None:
        way = 0
        for i in range(b, a - 1, -1):
            way = traces[i + 1 - a][way]
            self.into[i], self.out[i] = self.ground.ways[self.at[i]][way]

    def kept(self) -> _Row:
        """Return a copy of the tour for ``restore``."""
        return self._row(0, self.ground.count + 1)

    def restore(self, kept: _Row, length: int) -> None:
        """Bring back what ``kept`` returned, where it changed between ``low`` and ``high``."""
        self.at, self.into, self.out = kept
        self.length = length
        for position in range(self.low, self.high + 1):
            self.place[self.at[position]] = position

    def _row(self, a: int, b: int) -> _Row:
        return self.at[a : b + 1], self.into[a : b + 1], self.out[a : b + 1]

    def _reverse(self, a: int, b: int) -> _Row:
        """Return what stands at *a* to *b*, run the other way."""
        return self.at[a : b + 1][::-1], self.out[a : b + 1][::-1], self.into[a : b + 1][::-1]

    def _shift(self, a: int, b: int, gap: int, row: _Row) -> None:
        """Put *row*, which stands at *a* to *b*, behind position *gap*; what lies between moves up."""
        if gap < a:
            self._lay(gap + 1, _joined(row, self._row(gap + 1, a - 1)))
        else:
            self._lay(a, _joined(self._row(b + 1, gap), row))

    def _lay(self, first: int, row: _Row) -> None:
        """Put *row* at position *first* and after."""
        behind = first + len(row[0])
        self.at[first:behind], self.into[first:behind], self.out[first:behind] = row
        for position, stop in enumerate(row[0], first):
            self.place[stop] = position
        self.low, self.high = min(self.low, first), max(self.high, behind - 1)


def _joined(first: _Row, second: _Row) -> _Row:
    return first[0] + second[0], first[1] + second[1], first[2] + second[2]
