"""Patterns with boxes taken off, so that a plan places exactly what was ordered."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from .order import Cut, Leaf, Order, Pattern, Placed, Way

#: a pattern, and how many sheets are cut so
Run = tuple[Pattern, int]


def without(pattern: Pattern, off: Sequence[int]) -> Pattern:
    """Return *pattern* with so many boxes of each kind taken off, the last placed first."""
    left, kept = list(off), []
    gone: set[tuple[int, int]] = set()
    for box in reversed(pattern.placed):
        if left[box.kind] > 0:
            left[box.kind] -= 1
            gone.add((box.x, box.y))
        else:
            kept.append(box)
    if not gone:
        return pattern
    cuts = None if pattern.cuts is None else _cleared(pattern.cuts, 0, 0, gone)
    return replace(pattern, placed=tuple(reversed(kept)), cuts=cuts)


def _cleared(piece: Cut | Leaf, x: int, y: int, gone: set[tuple[int, int]]) -> Cut | Leaf:
    """Return the cuts without those that only part one offcut from another."""
    if isinstance(piece, Leaf):
        return Leaf(None) if (x, y) in gone and piece.kind is not None else piece
    far_x, far_y = (x + piece.at, y) if piece.way is Way.UPRIGHT else (x, y + piece.at)
    near, far = _cleared(piece.near, x, y, gone), _cleared(piece.far, far_x, far_y, gone)
    if near == far == Leaf(None):
        return Leaf(None)
    return replace(piece, near=near, far=far)


def joined(runs: Sequence[Run]) -> list[Run]:
    """Return *runs* with equal patterns told once, empty ones and those cut 0 times left out."""
    times: dict[tuple[int, tuple[Placed, ...]], int] = {}
    first: dict[tuple[int, tuple[Placed, ...]], Pattern] = {}
    for pattern, count in runs:
        if pattern.placed and count:
            key = (pattern.bed, tuple(sorted(pattern.placed)))
            first.setdefault(key, pattern)
            times[key] = times.get(key, 0) + count
    return [(first[key], count) for key, count in times.items()]


def surplus(order: Order, runs: Sequence[Run]) -> list[int]:
    """Return by kind how many boxes more than ordered lie on the sheets; below 0: lacking."""
    kinds = len(order.boxes)
    over = [-count for count in order.counts]
    for pattern, times in runs:
        for kind, count in enumerate(pattern.counts(kinds)):
            over[kind] += count * times
    return over


def exactly(order: Order, runs: Sequence[Run]) -> list[Run]:
    """Return *runs* without the boxes that are too many; sheets left empty are left out.

    Whole runs are thinned alike where that is enough to take off, then single sheets:
    the person loads few different sheets.
    """
    runs = joined(runs)
    over = surplus(order, runs)
    thinned: dict[int, list[Run]] = {}
    for place in sorted(range(len(runs)), key=lambda place: _thin_first(runs[place])):
        thinned[place] = _thinned(*runs[place], over)
    return joined([run for place in range(len(runs)) for run in thinned[place]])


def _thin_first(run: Run) -> tuple[int, int]:
    """Return what puts runs of few sheets first, of these the ones with little on them."""
    return run[1], len(run[0].placed)


def _thinned(pattern: Pattern, times: int, over: list[int]) -> list[Run]:
    """Return the run with what is *over* taken off it, and count that down."""
    has = pattern.counts(len(over))
    alike = [min(count, max(0, much) // times) for count, much in zip(has, over, strict=True)]
    for kind, count in enumerate(alike):
        over[kind] -= count * times
    pattern = without(pattern, alike)
    has = pattern.counts(len(over))
    if not any(count and much > 0 for count, much in zip(has, over, strict=True)):
        return [(pattern, times)]
    return _thinned_singly(pattern, times, over)


def _thinned_singly(pattern: Pattern, times: int, over: list[int]) -> list[Run]:
    found: list[Run] = []
    has = pattern.counts(len(over))
    for left in range(times, 0, -1):
        off = [min(count, max(0, much)) for count, much in zip(has, over, strict=True)]
        if not any(off):
            return [*found, (pattern, left)]
        for kind, count in enumerate(off):
            over[kind] -= count
        found.append((without(pattern, off), 1))
    return found
