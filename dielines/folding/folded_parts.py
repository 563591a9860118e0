"""Parts folded as their steps declare; parts that are alike are folded once."""

from __future__ import annotations

from dataclasses import replace

from ..book.book import Book
from ..hinges import skeleton
from ..part import Part
from ..poses import angles_after, posed, residuals
from .arrival import Landing, arrivals
from .folded_part import FoldedPart, outlines_of, root_of
from .layering import Layering, Outcome


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

    Raises UsageError where the part falls apart.
    """
    rest = root or root_of(part)
    outlines = outlines_of(part)
    bones = skeleton(outlines, part.lines, rest, part.rigid)
    reached = angles_after(part.lines, part.steps)
    gaps = residuals(outlines, part.lines, part.steps, (), rest, part.rigid)
    return FoldedPart(
        part=part,
        root=rest,
        poses=posed(bones, reached[-1]),
        layering=layering_from(arrivals(outlines, bones, reached, part.steps)),
        open_loops=tuple(gap for gap in gaps if not gap.is_closed),
    )


def layering_from(landing: Landing) -> Layering:
    """Return what can be said of the order of layers once all steps are played."""
    outcome = Outcome.ONE
    if landing.clashes:
        outcome = Outcome.IMPOSSIBLE
    elif landing.unclear:
        outcome = Outcome.AMBIGUOUS
    return Layering(outcome, landing.sides, tuple(landing.clashes), tuple(landing.unclear))
