"""Parts folded as their steps declare; parts that are alike are folded once."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

from ..book.book import Book
from ..hinges import skeleton
from ..part import Part, Step
from ..poses import Residual, angles_after, fold_angles, posed, residuals, stages_to_ask
from ..rigid import Pose
from .arrival import Landing, arrivals, steps_in_motion
from .flat_order import FlatState, circle, is_decided, straight, violations
from .folded_part import FoldedPart, outlines_of, root_of
from .layering import Clash, Layering, Outcome, Pair
from .meeting import Sheet
from .piercing import pierced
from .planes import flat_states
from .sequences import Sequences, closes, needs_sequences, units_of
from .vertices import NIPPED


def folded_parts(book: Book) -> dict[str, FoldedPart]:
    """Return every part of *book*, folded, by its key; equal parts share one."""
    known: dict[object, FoldedPart] = {}
    folded = {}
    for entry in book.parts:
        part = entry.part
        seen = known.get(_shape(part))
        if seen is None:
            seen = known[_shape(part)] = fold_part(part)
        folded[entry.key] = seen if seen.part is part else _shared(seen, part)
    return folded


def _shape(part: Part) -> object:
    """Return all that folding depends on."""
    return part.panels, part.lines, part.steps, part.rigid, part.bound


def _shared(folded: FoldedPart, part: Part) -> FoldedPart:
    return folded if folded.part == part else replace(folded, part=part)


def fold_part(part: Part, root: str = "") -> FoldedPart:
    """Return *part* folded; *root* (the bound or else the largest panel) stays where it lies.

    Without declared steps its order of layers is what all sequences of folding have
    in common. Raises UsageError where the part falls apart.
    """
    rest = root or root_of(part)
    sheet = Sheet(outlines_of(part), skeleton(outlines_of(part), part.lines, rest, part.rigid))
    poses = posed(sheet.bones, angles_after(part.lines, part.steps)[-1])
    return FoldedPart(
        part=part,
        root=rest,
        poses=poses,
        layering=_layering(part, sheet, poses),
        open_loops=_open_loops(part, sheet),
    )


def layering_of(part: Part) -> Layering:
    """Return which panels of *part* lie over which once it is folded."""
    return fold_part(part).layering


def _layering(part: Part, sheet: Sheet, poses: Mapping[str, Pose]) -> Layering:
    if part.stock == NIPPED:
        return _wrapped(part, sheet)
    states = flat_states(part, sheet, poses)
    played = _played(part, sheet, states)
    if not needs_sequences(part):
        return played
    works_at_once = not (part.steps or played.clashes or _open_loops(part, sheet))
    at_once = [played] if works_at_once else []
    if at_once and played.outcome is Outcome.ONE and all(map(is_decided, states)):
        return played
    return _in_any_sequence(part, sheet, states, at_once) or replace(
        played, outcome=Outcome.IMPOSSIBLE
    )


def _wrapped(part: Part, sheet: Sheet) -> Layering:
    """Return the order of turn-ins, folded round boards one after the other.

    Where they meet at a corner they are nipped in, which rigid panels are not, so that
    only coming through each other is held against them.
    """
    steps = part.steps or tuple(sorted(units_of(part), key=_head_and_tail_first))
    landing, _ = _landing(replace(part, steps=steps), sheet)
    outcome = Outcome.IMPOSSIBLE if landing.clashes else Outcome.ONE
    return Layering(outcome, landing.sides, tuple(landing.clashes))


def _head_and_tail_first(step: Step) -> int:
    return "/|-".index(step.angles_deg[0][0].relation)


def _played(part: Part, sheet: Sheet, states: Sequence[FlatState]) -> Layering:
    """Return the order that the steps bring about, held against all that forbids it."""
    landing, through = _landing(part, sheet)
    clashes = (*landing.clashes, *through, *_broken(states, landing.sides))
    circles = _circles(states, landing.sides)
    unclear = tuple(sorted(landing.unclear))
    outcome = Outcome.CYCLIC if circles else Outcome.ONE
    if clashes or unclear:
        outcome = Outcome.IMPOSSIBLE if clashes else Outcome.AMBIGUOUS
    return Layering(outcome, landing.sides, clashes, unclear, circles)


def _landing(part: Part, sheet: Sheet) -> tuple[Landing, Sequence[Clash]]:
    """Return what the steps of *part* bring about, and what stands through what after them."""
    motions = list(steps_in_motion(sheet, angles_after(part.lines, part.steps)))
    through = dict[Pair, Clash]()
    for number, motion in enumerate(motions, 1):
        for clash in pierced(sheet, motion.moved, number):
            through.setdefault((clash.first, clash.second), clash)
    return arrivals(sheet, motions, part.steps), tuple(through.values())


def _in_any_sequence(
    part: Part, sheet: Sheet, states: Sequence[FlatState], at_once: Sequence[Layering]
) -> Layering | None:
    """Return what all ways of folding have in common, None where none works.

    These are all sequences and, where that works, all folds *at_once*.
    """
    found = {_key(known.sides, known.ambiguous): known.sides for known in at_once}
    for landing in Sequences.of(part, sheet).landings():
        key = _key(landing.sides, landing.unclear)
        if key not in found and not any(_broken(states, landing.sides)):
            found[key] = landing.sides
    if not found:
        return None
    first = next(iter(found.values()))
    differing = {pair for _, unclear in found for pair in unclear} | _differing([*found.values()])
    if not differing:
        circles = _circles(states, first)
        return Layering(Outcome.CYCLIC if circles else Outcome.ONE, first, (), (), circles)
    shared = {pair: side for pair, side in first.items() if straight(pair) not in differing}
    return Layering(Outcome.AMBIGUOUS, shared, (), tuple(sorted(differing)))


def _key(sides: Mapping[Pair, int], unclear: Iterable[Pair]) -> tuple[object, frozenset[Pair]]:
    return frozenset(sides.items()), frozenset(map(straight, unclear))


def _differing(orders: Sequence[Mapping[Pair, int]]) -> set[Pair]:
    """Return the pairs, each once, that do not lie alike in all *orders*."""
    first = orders[0]
    return {
        straight(pair)
        for other in orders[1:]
        for pair, side in first.items()
        if other.get(pair) != side
    }


def _broken(states: Iterable[FlatState], sides: Mapping[Pair, int]) -> Iterable[Clash]:
    return (clash for state in states for clash in violations(state, sides))


def _circles(states: Iterable[FlatState], sides: Mapping[Pair, int]) -> tuple[tuple[str, ...], ...]:
    return tuple(filter(None, (circle(state, sides) for state in states)))


def _open_loops(part: Part, sheet: Sheet) -> tuple[Residual, ...]:
    """Return the loops that gape, measured exactly only where floats see that some do."""
    lines, steps = part.lines, part.steps
    if not sheet.bones.loops or all(
        closes(sheet, fold_angles(lines, steps, stage)) for stage in stages_to_ask(lines, steps)
    ):
        return ()
    gaps = residuals(sheet.outlines, lines, steps, (), sheet.bones.root, part.rigid)
    return tuple(gap for gap in gaps if not gap.is_closed)
