"""Parts folded as their steps declare; parts that are alike are folded once."""

from __future__ import annotations

from dataclasses import replace

from ..book.book import Book
from ..hinges import Skeleton, skeleton
from ..part import Part
from ..poses import Residual, angles_after, posed, residuals
from .arrival import Landing, arrivals
from .folded_part import FoldedPart, outlines_of, root_of
from .layering import Layering, Outcome
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
    reached = angles_after(part.lines, part.steps)
    return layering_from(arrivals(outlines_of(part), bones, reached, part.steps))


def _open_loops(part: Part, root: str) -> tuple[Residual, ...]:
    gaps = residuals(outlines_of(part), part.lines, part.steps, (), root, part.rigid)
    return tuple(gap for gap in gaps if not gap.is_closed)


def layering_from(landing: Landing) -> Layering:
    """Return what can be said of the order of layers once all steps are played."""
    outcome = Outcome.ONE
    if landing.clashes:
        outcome = Outcome.IMPOSSIBLE
    elif landing.unclear:
        outcome = Outcome.AMBIGUOUS
    return Layering(outcome, landing.sides, tuple(landing.clashes), tuple(landing.unclear))
