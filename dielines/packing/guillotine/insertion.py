"""Fewer sheets, by emptying one and finding room for its boxes on the others.

Goal-driven insertion: the heaviest box without a sheet goes onto one that has room for
it, or takes the place of lighter boxes, which then have none. A box that found no room
grows heavier, so that others make way for it. Weights as in guided ejection search
(Nagata and Braysy 2009, for vehicle routes); here with the area of the box.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from ..lots import Lots
from ..order import Order, Pattern, Work
from .exchanges import Load, cheaper
from .fronts import Bag
from .questions import FEW, Questions

#: Boxes moved before another sheet is emptied instead: so many, and so many for each sheet.
PATIENCE, PATIENCE_PER_SHEET = 60, 20


@dataclass
class _State:
    """Sheets, boxes without a sheet, and how often each kind found no room."""

    questions: Questions
    loads: list[Load]
    pool: list[int]
    failures: list[int]
    work: Work

    def weight(self, kind: int) -> int:
        """Return what a box counts for."""
        return self.questions.areas[kind] * self.failures[kind]


@dataclass(frozen=True, order=True)
class _Swap:
    """Boxes that may make way: what they weigh, the sheet, who they are, and if it is known to fit."""

    weight: int
    load: int
    off: Bag
    is_known: bool


def with_one(bag: Bag, kind: int) -> Bag:
    """Return a set of boxes with one more."""
    return tuple(sorted((*bag, kind)))


def without(bag: Bag, off: Sequence[int]) -> Bag:
    """Return a set of boxes without some of them."""
    left = list(bag)
    for kind in off:
        left.remove(kind)
    return tuple(left)


def fewest(questions: Questions, loads: Sequence[Load], bound: int, work: Work) -> tuple[Load, ...]:
    """Return loads of the same boxes whose sheets cost least, until *bound* or the end of work."""
    best, tries, lots = tuple(loads), 0, Lots(1)
    while price_of(questions.order, best) > bound and not work.is_over and len(best) > 1:
        ranked = sorted(best, key=lambda load: (questions.area(load.bag), load.bed, load.bag))
        work.spend(len(ranked))
        found = _with_all(questions, *cheaper(questions.order, ranked, tries, lots), work)
        best, tries = (found, 0) if found is not None else (best, tries + 1)
    return _on_cheaper_sheets(questions, best, work)


def _on_cheaper_sheets(questions: Questions, loads: Sequence[Load], work: Work) -> tuple[Load, ...]:
    """Return the loads on the cheapest sheets that hold them and that can still be had."""
    beds, found = questions.order.beds, list(loads)
    used = [sum(load.bed == bed for load in loads) for bed in range(len(beds))]
    for i, load in enumerate(loads):
        for bed in sorted(range(len(beds)), key=lambda bed: (beds[bed].price, bed)):
            if beds[bed].price >= beds[load.bed].price:
                break
            most = beds[bed].at_most
            if (most is None or used[bed] < most) and questions.fits(load.bag, bed, work):
                used[bed], used[load.bed] = used[bed] + 1, used[load.bed] - 1
                found[i] = Load(bed, load.bag)
                break
    return tuple(found)


def price_of(order: Order, loads: Sequence[Load]) -> int:
    """Return the price of all sheets."""
    return sum(order.beds[load.bed].price for load in loads)


def _with_all(
    questions: Questions, loads: list[Load], pool: list[int], work: Work
) -> tuple[Load, ...] | None:
    """Return loads with all boxes of a pool on them; None where these found no room."""
    state = _State(questions, loads, pool, [1] * len(questions.order.boxes), work)
    for _ in range(PATIENCE + PATIENCE_PER_SHEET * len(loads)):
        if not state.pool:
            return tuple(load for load in state.loads if load.bag)
        if work.is_over or not _placed(state):
            return None
    return None


def _placed(state: _State) -> bool:
    """Give the heaviest box without a sheet a place; return whether there was any."""
    kind = max(state.pool, key=lambda kind: (state.weight(kind), -kind))
    state.pool.remove(kind)
    if _placed_beside(state, kind):
        return True
    state.failures[kind] += 1
    for swap in sorted(_swaps(state, kind)):
        load = state.loads[swap.load]
        bag = with_one(without(load.bag, swap.off), kind)
        if swap.is_known or state.questions.fits(bag, load.bed, state.work):
            state.loads[swap.load] = Load(load.bed, bag)
            state.pool += swap.off
            return True
    return False


def _placed_beside(state: _State, kind: int) -> bool:
    """Put a box onto the fullest sheet that has room for it."""
    questions = state.questions
    state.work.spend(len(state.loads))
    rooms = [(questions.room(load.bag, load.bed), i) for i, load in enumerate(state.loads)]
    for room, i in sorted(rooms):
        if room < questions.areas[kind]:
            continue
        load = state.loads[i]
        bag = with_one(load.bag, kind)
        if questions.fits(bag, load.bed, state.work):
            state.loads[i] = Load(load.bed, bag)
            return True
    return False


def _swaps(state: _State, kind: int) -> Iterator[_Swap]:
    """Yield what may make way for a box: one or two boxes of a sheet, or what a filler leaves."""
    for i, load in enumerate(state.loads):
        if len(load.bag) > FEW + 1:
            yield from _left_by_filler(state, kind, i)
        else:
            yield from _one_or_two(state, kind, i)


def _left_by_filler(state: _State, kind: int, i: int) -> Iterator[_Swap]:
    load = state.loads[i]
    others = sorted(load.bag, key=lambda other: (-state.weight(other), other))
    left = state.questions.left([kind, *others], load.bed, state.work)
    if kind not in left:
        yield _Swap(sum(state.weight(other) for other in left), i, tuple(sorted(left)), True)


def _one_or_two(state: _State, kind: int, i: int) -> Iterator[_Swap]:
    load, areas = state.loads[i], state.questions.areas
    state.work.spend(len(load.bag) * len(load.bag) // 2)
    lacking = areas[kind] - state.questions.room(load.bag, load.bed)
    kinds = sorted(set(load.bag) - {kind})
    for one in kinds:
        if areas[one] >= lacking:
            yield _Swap(state.weight(one), i, (one,), False)
        for two in kinds:
            if two < one or (two == one and load.bag.count(one) < 2):
                continue
            if areas[one] + areas[two] >= lacking:
                yield _Swap(state.weight(one) + state.weight(two), i, (one, two), False)


def fewer_sheets(
    order: Order, stages: int | None, patterns: Sequence[Pattern], bound: int, work: Work
) -> tuple[Pattern, ...]:
    """Return sheets for the same boxes that cost no more than *patterns*, cut from edge to edge.

    *patterns* must be cut in so many stages themselves. It ends at the price *bound*,
    or when the work is over.
    """
    questions = Questions(order, stages)
    loads = [Load(pattern.bed, questions.learn(pattern)) for pattern in patterns]
    found = fewest(questions, loads, bound, work)
    return tuple(questions.pattern(load.bag, load.bed) for load in found)
