"""The order of layers of panels in one plane as a set of constraints, to verify one or find all.

Every two panels that overlap have a variable: which lies on top. A fold fixes its
own two panels. A crease strictly inside a third panel has both its panels on one
side of it; two creases in one place do not interleave; of three panels with a
common area none lies over itself by way of the others.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from ..part import FoldKey
from .layering import Clash, ClashKind, Pair

MOST_SEARCHED = 200_000  #: assignments tried before a search is given up


@dataclass(frozen=True)
class Constraint:
    """What must hold of the variables of *pairs*; *first*, *second*, *crease* are to be named."""

    pairs: tuple[Pair, ...]
    holds: Callable[[Sequence[int]], bool]
    kind: ClashKind
    first: str
    second: str
    crease: FoldKey | None = None


@dataclass(frozen=True)
class FlatState:
    """The panels of a part that lie in one plane. A variable is +1 where the later lies on top."""

    names: tuple[str, ...]  #: in the order of the part
    ups: Mapping[str, int]  #: +1 where the face looks up, -1 where it looks down
    pairs: tuple[Pair, ...]  #: that overlap, the earlier panel first
    fixed: Mapping[Pair, int]  #: by the folds
    constraints: tuple[Constraint, ...]

    def from_sides(self, sides: Mapping[Pair, int]) -> dict[Pair, int]:
        """Return the variables of an order relative to the panels' own normals."""
        return {p: sides[p] * self.ups[p[0]] for p in self.pairs if p in sides}

    def to_sides(self, values: Mapping[Pair, int]) -> dict[Pair, int]:
        """Return the order relative to the panels' own normals, both ways round."""
        one = {(a, b): v * self.ups[a] for (a, b), v in values.items()}
        return one | {(b, a): -v * self.ups[b] for (a, b), v in values.items()}


def violations(state: FlatState, sides: Mapping[Pair, int]) -> Iterator[Clash]:
    """Yield what an order of layers does against the constraints."""
    values = state.from_sides(sides)
    for constraint in state.constraints:
        known = [_value(values, pair) for pair in constraint.pairs]
        if None not in known and not constraint.holds([v for v in known if v is not None]):
            yield Clash(constraint.kind, constraint.first, constraint.second, 0, constraint.crease)


def circle(state: FlatState, sides: Mapping[Pair, int]) -> tuple[str, ...]:
    """Return panels each of which lies over the one before, all round; empty where none do."""
    over: dict[str, list[str]] = {name: [] for name in state.names}
    for (a, b), value in state.from_sides(sides).items():
        low, high = (a, b) if value > 0 else (b, a)
        over[low].append(high)
    finished: set[str] = set()

    def climb(name: str, way: tuple[str, ...]) -> tuple[str, ...]:
        if name in way:
            return way[way.index(name) :]
        if name in finished:
            return ()
        for above in over[name]:
            if found := climb(above, (*way, name)):
                return found
        finished.add(name)
        return ()

    return next((found for name in state.names if (found := climb(name, ()))), ())


def is_decided(state: FlatState) -> bool:
    """Return whether the folds alone leave one order of layers at most, without any trying."""
    values = _by_folds(state, _by_pair(state))
    return values is None or len(values) == len(state.pairs)


def orders(state: FlatState) -> Iterator[dict[Pair, int]]:
    """Yield every order of layers that keeps all constraints, as sides; MOST_SEARCHED tries at most."""
    by_pair = _by_pair(state)
    start = _by_folds(state, by_pair)
    waiting = [] if start is None else [start]
    tries = 0
    while waiting and tries < MOST_SEARCHED:
        tries += 1
        values = waiting.pop()
        free = next((pair for pair in state.pairs if pair not in values), None)
        if free is None:
            yield state.to_sides(values)
            continue
        tried = (_spread({**values}, [(free, value)], by_pair) for value in (-1, 1))
        waiting += [found for found in tried if found is not None]


def _by_folds(
    state: FlatState, by_pair: Mapping[Pair, Sequence[Constraint]]
) -> dict[Pair, int] | None:
    """Return what follows from the folds alone; None where they contradict each other."""
    return _spread({}, list(state.fixed.items()), by_pair)


def _by_pair(state: FlatState) -> Mapping[Pair, Sequence[Constraint]]:
    by_pair: dict[Pair, list[Constraint]] = {pair: [] for pair in state.pairs}
    for constraint in state.constraints:
        for pair in constraint.pairs:
            by_pair[straight(pair)].append(constraint)
    return by_pair


def _spread(
    values: dict[Pair, int],
    new: list[tuple[Pair, int]],
    by_pair: Mapping[Pair, Sequence[Constraint]],
) -> dict[Pair, int] | None:
    """Return *values* with *new* ones and all that follow from them; None where they contradict."""
    while new:
        pair, value = new.pop()
        if pair in values:
            if values[pair] != value:
                return None
            continue
        values[pair] = value
        for constraint in by_pair[pair]:
            forced = _forced(constraint, values)
            if forced is None:
                return None
            new += forced
    return values


def _forced(constraint: Constraint, values: Mapping[Pair, int]) -> list[tuple[Pair, int]] | None:
    """Return what one constraint makes certain; None where it can no longer be kept."""
    known = [_value(values, pair) for pair in constraint.pairs]
    open_pairs = sorted(
        {straight(p) for p, v in zip(constraint.pairs, known, strict=True) if v is None}
    )
    if len(open_pairs) > 1:
        return []
    if not open_pairs:
        return [] if constraint.holds([v for v in known if v is not None]) else None
    (pair,) = open_pairs
    possible = [
        value
        for value in (1, -1)
        if constraint.holds([_value({**values, pair: value}, p) or 0 for p in constraint.pairs])
    ]
    if not possible:
        return None
    return [(pair, possible[0])] if len(possible) == 1 else []


def straight(pair: Pair) -> Pair:
    """Return the pair as it is kept; see `_pair`."""
    return pair if pair[0] < pair[1] else (pair[1], pair[0])


def _value(values: Mapping[Pair, int], pair: Pair) -> int | None:
    """Return whether the second of *pair* lies over the first, either way round."""
    if pair in values:
        return values[pair]
    value = values.get((pair[1], pair[0]))
    return None if value is None else -value
