"""Parts folded as their steps declare; parts that are alike are folded once."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from ..book.book import Book
from ..hinges import Skeleton, skeleton
from ..part import Part
from ..poses import Residual, angles_after, posed, residuals
from .arrival import arrivals, float_poses
from .flat_order import circle, flat_states, violations
from .folded_part import FoldedPart, outlines_of, root_of
from .layering import Clash, Layering, Outcome, Pair
from .piercing import pierced_in_steps
from .sequences import layering_of_sequences, needs_sequences


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
    bones = skeleton(outlines_of(part), part.lines, rest, part.rigid)
    return FoldedPart(
        part=part,
        root=rest,
        poses=posed(bones, angles_after(part.lines, part.steps)[-1]),
        layering=layering_of(part, bones),
        open_loops=_open_loops(part, rest),
    )


def layering_of(part: Part, bones: Skeleton) -> Layering:
    """Return which panels of *part* lie over which once it is folded."""
    if needs_sequences(part):
        return layering_of_sequences(
            part, lambda p: (_played(p, bones), not _open_loops(p, bones.root))
        )
    return _played(part, bones)


def _played(part: Part, bones: Skeleton) -> Layering:
    """Return the order that the steps bring about, held against all that forbids it."""
    outlines, reached = outlines_of(part), angles_after(part.lines, part.steps)
    landing = arrivals(outlines, bones, reached, part.steps)
    stages = [float_poses(bones, angles) for angles in reached[1:]]
    states = flat_states(part, stages[-1])
    clashes = (
        *landing.clashes,
        *pierced_in_steps(outlines, stages),
        *(clash for state in states for clash in violations(state, landing.sides)),
    )
    circles = tuple(filter(None, (circle(state, landing.sides) for state in states)))
    return Layering(
        _outcome(clashes, landing.unclear, circles),
        landing.sides,
        clashes,
        tuple(landing.unclear),
        circles,
    )


def _outcome(
    clashes: Sequence[Clash], unclear: Sequence[Pair], circles: Sequence[Sequence[str]]
) -> Outcome:
    if clashes:
        return Outcome.IMPOSSIBLE
    if unclear:
        return Outcome.AMBIGUOUS
    return Outcome.CYCLIC if circles else Outcome.ONE


def _open_loops(part: Part, root: str) -> tuple[Residual, ...]:
    gaps = residuals(outlines_of(part), part.lines, part.steps, (), root, part.rigid)
    return tuple(gap for gap in gaps if not gap.is_closed)
