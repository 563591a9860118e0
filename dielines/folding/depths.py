"""How high each layer of the closed book lies, pressed and upright.

A system of differences: a panel over another is at least so far above it, and a
wall lets its two panels be at most so far apart. Pressed is the longest path over
the first kind (Cormen et al., Introduction to Algorithms, 24.2 and 24.4); upright
is the linear program that moves the panels least from where standing walls would
hold them, and makes a wall wider only where nothing else helps.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any, NamedTuple

from .levels import PanelKey
from .stack import Link, Stack

#: What a millimetre costs by which a wall is too narrow, where a millimetre that a panel moves
#: costs 1, as tried out beforehand: walls give way last.
COST_OF_A_WALL = 50.0


class Over(NamedTuple):
    """One panel over another, their middles at least *gap* apart, mm."""

    lower: PanelKey
    upper: PanelKey
    gap: float


@dataclass(frozen=True)
class Sorted:
    """Panels from the lowest to the highest, and what lies directly over what.

    *circles* are panels each of which lies over the one before and the first over the
    last; one pair of each was left out so that the others could be sorted.
    """

    order: tuple[PanelKey, ...]
    above: Mapping[PanelKey, Sequence[Over]]
    circles: tuple[tuple[PanelKey, ...], ...]

    @cached_property
    def places(self) -> Mapping[PanelKey, int]:
        """The place of each panel in the order."""
        return {panel: place for place, panel in enumerate(self.order)}

    @property
    def overs(self) -> list[Over]:
        """All pairs but those that would close a circle."""
        return [over for found in self.above.values() for over in found]


def overs(stack: Stack, pairs: Iterable[tuple[PanelKey, PanelKey]]) -> list[Over]:
    """Return how far apart the panels of each of *pairs* are at least."""
    return [Over(lower, upper, stack.gap(lower, upper)) for lower, upper in pairs]


def sorted_layers(panels: Iterable[PanelKey], found: Sequence[Over]) -> Sorted:
    """Return *panels* sorted so that each comes after all that lie under it (Kahn, 1962)."""
    above: dict[PanelKey, list[Over]] = {panel: [] for panel in panels}
    under = dict.fromkeys(above, 0)
    for over in found:
        above[over.lower].append(over)
        under[over.upper] += 1
    order: list[PanelKey] = []
    circles = []
    ready = [panel for panel, count in under.items() if not count]
    while len(order) < len(above):
        if not ready:
            circle = _circle(above, under)
            circles.append(circle)
            ready += _opened(circle, above, under)
            continue
        panel = ready.pop()
        order.append(panel)
        del under[panel]
        for over in above[panel]:
            under[over.upper] -= 1
            if not under[over.upper]:
                ready.append(over.upper)
    return Sorted(tuple(order), above, tuple(circles))


def _circle(
    above: Mapping[PanelKey, Sequence[Over]], under: Mapping[PanelKey, int]
) -> tuple[PanelKey, ...]:
    """Return panels in a circle among those that are left, each over the one before."""
    below = {
        over.upper: over.lower for panel in under for over in above[panel] if over.upper in under
    }
    panel = next(iter(below))
    seen: list[PanelKey] = []
    while panel not in seen:
        seen.append(panel)
        panel = below[panel]
    return tuple(reversed(seen[seen.index(panel) :]))


def _opened(
    circle: tuple[PanelKey, ...],
    above: dict[PanelKey, list[Over]],
    under: dict[PanelKey, int],
) -> Iterator[PanelKey]:
    """Leave out what holds a circle together at its first panel; yield it once it is free."""
    last, first = circle[-1], circle[0]
    left = [over for over in above[last] if over.upper == first]
    above[last] = [over for over in above[last] if over.upper != first]
    under[first] -= len(left)
    if not under[first]:
        yield first


# ------------------------------------------------------------------ pressed


def pressed_heights(layers: Sorted, lowest: Mapping[PanelKey, float]) -> dict[PanelKey, float]:
    """Return the lowest place of each panel over what lies under it; *lowest* where nothing does."""
    heights: dict[PanelKey, float] = {}
    for panel in layers.order:
        here = heights.setdefault(panel, lowest[panel])
        for over in layers.above[panel]:
            raised = here + over.gap
            heights[over.upper] = max(raised, heights.get(over.upper, raised))
    return heights


def needed_width(
    layers: Sorted, lower: Mapping[PanelKey, float], upper: Mapping[PanelKey, float]
) -> float:
    """Return how far apart two packs of panels are kept by what lies between them; 0 by nothing.

    Each pack is a panel at height 0 and what is taped to it, with its height over that one:
    tape does not give, so what lifts one of a pack lifts all.
    """
    heights = dict(lower)
    start = min(layers.places[panel] for panel in lower)
    stop = max(layers.places[panel] for panel in upper)
    for panel in layers.order[start:stop]:
        if panel in heights and panel not in upper:
            for over in layers.above[panel]:
                raised = heights[panel] + over.gap
                heights[over.upper] = max(raised, heights.get(over.upper, raised))
    return max([0.0, *(heights[p] - offset for p, offset in upper.items() if p in heights)])


# ------------------------------------------------------------------ upright


@dataclass(frozen=True)
class Upright:
    """Heights with walls standing, and by how much each wall of `links` is too narrow."""

    heights: Mapping[PanelKey, float]
    short: Mapping[Link, float]


def upright_heights(
    found: Sequence[Over],
    links: Sequence[Link],
    standing: Mapping[PanelKey, float],
    ground: PanelKey,
) -> Upright:
    """Return the heights nearest to *standing* that obey all of *found* and, if possible, *links*.

    *ground* does not move. Solved by HiGHS (Huangfu and Hall, 2018) through scipy.
    """
    if _holds(found, links, standing):
        return Upright(dict(standing), dict.fromkeys(links, 0.0))
    return _solved(found, links, standing, ground)


def _holds(found: Sequence[Over], links: Sequence[Link], heights: Mapping[PanelKey, float]) -> bool:
    return all(heights[o.upper] - heights[o.lower] >= o.gap - 1e-9 for o in found) and all(
        abs(heights[k.upper] - heights[k.lower]) <= k.width + 1e-9 for k in links
    )


def _solved(
    found: Sequence[Over],
    links: Sequence[Link],
    standing: Mapping[PanelKey, float],
    ground: PanelKey,
) -> Upright:
    """Solve for how much each panel rises and sinks, then how much wider each wall would be."""
    from scipy.optimize import linprog

    place = {panel: index for index, panel in enumerate(standing)}
    rows = _Rows(len(standing), len(links), place)
    for over in found:
        rows.apart(over.lower, over.upper, standing[over.upper] - standing[over.lower] - over.gap)
    for number, link in enumerate(links):
        rows.linked(link, number, standing[link.upper] - standing[link.lower])
    costs = [1.0] * (2 * len(standing)) + [COST_OF_A_WALL] * len(links)
    fixed = {place[ground], place[ground] + len(standing)}
    bounds = [(0, 0 if index in fixed else None) for index in range(len(costs))]
    solution = linprog(
        costs, A_ub=rows.matrix(), b_ub=rows.limits, bounds=bounds, method="highs-ds"
    )
    return _read(solution.x, place, links, standing)


def _read(
    found: Any,
    place: Mapping[PanelKey, int],
    links: Sequence[Link],
    standing: Mapping[PanelKey, float],
) -> Upright:
    count = len(place)
    heights = {
        panel: standing[panel] + float(found[index] - found[index + count])
        for panel, index in place.items()
    }
    short = {link: float(found[2 * count + number]) for number, link in enumerate(links)}
    return Upright(heights, short)


class _Rows:
    """The inequalities of the linear program, row after row: coefficients <= limit."""

    def __init__(self, panels: int, links: int, place: Mapping[PanelKey, int]) -> None:
        self.panels, self.links, self.place = panels, links, place
        self.limits: list[float] = []
        self.entries: list[tuple[int, int, float]] = []

    def apart(self, lower: PanelKey, upper: PanelKey, spare: float) -> None:
        """Let *upper* come no nearer to *lower* than by *spare*."""
        self._row(lower, upper, 1.0, spare)

    def linked(self, link: Link, number: int, standing: float) -> None:
        """Let two panels part by no more than their wall is wide, and what it is short of."""
        for sign in (1.0, -1.0):
            self._row(link.upper, link.lower, sign, link.width - sign * standing)
            self.entries.append((len(self.limits) - 1, 2 * self.panels + number, -1.0))

    def _row(self, plus: PanelKey, minus: PanelKey, sign: float, limit: float) -> None:
        row = len(self.limits)
        for panel, factor in ((plus, sign), (minus, -sign)):
            self.entries.append((row, self.place[panel], factor))
            self.entries.append((row, self.place[panel] + self.panels, -factor))
        self.limits.append(limit)

    def matrix(self) -> Any:
        """Return the coefficients as a sparse matrix."""
        from scipy.sparse import csr_array

        rows, columns, values = zip(*self.entries, strict=True)
        shape = (len(self.limits), 2 * self.panels + self.links)
        return csr_array((values, (rows, columns)), shape=shape)
