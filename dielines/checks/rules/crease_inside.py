"""A fold would have to close round a layer that reaches through it."""

from __future__ import annotations

from collections.abc import Iterator

from ...book.join_words import listed
from ...folding.caught import beyond_crease, last_moved
from ...folding.folded_book import FoldedBook
from ...folding.layering import Clash, ClashKind
from ...part import FoldKey, Part
from ...paths import Point, flattened
from ..finding import Amount, Finding, Severity, Spot
from ..words import DistinctPart, and_others, distinct_parts, line_words, panel_words, shown

NAME = "crease inside"
WHY = (
    "A fold that closes round another layer must close past that layer's edge, and of two folds in"
    " one place one must lie wholly within the other: paper does not pass through paper."
)
WORST = Severity.ERROR
SOURCE = "geometry; the crossing conditions of flat folding (Justin 1997)"

KINDS = (ClashKind.CREASE_INSIDE, ClashKind.INTERLEAVED)


def check(folded: FoldedBook) -> Iterator[Finding]:
    """Yield each fold that would cut through layers, with how far the worst reaches past it."""
    for part in distinct_parts(folded):
        clashes = [clash for clash in part.folded.layering.clashes if clash.kind in KINDS]
        by_fold: dict[FoldKey, list[Clash]] = {}
        for clash in clashes:
            if clash.crease is not None:
                by_fold.setdefault(clash.crease, []).append(clash)
        for crease, found in by_fold.items():
            yield _at_fold(folded, part, crease, found)
        if clashes and not by_fold:  # otherwise what follows from the folds only
            yield _at_panels(folded, part, clashes[0])


def _at_fold(
    folded: FoldedBook, part: DistinctPart, crease: FoldKey, found: list[Clash]
) -> Finding:
    caught = [clash.second for clash in found if clash.kind is ClashKind.CREASE_INSIDE]
    layers = list(dict.fromkeys(caught or [clash.second for clash in found]))
    names = listed([f"the {panel_words(folded.book, part.key, name)}" for name in layers])
    when = _when(part, [crease.first, crease.second, *layers])
    fold = f"the fold {line_words(folded.book, part.key, crease)}"
    spot = Spot(part.key, layers[0], _middle(part.part, crease))
    end = and_others(part.number)
    if not caught:
        return Finding(
            Severity.ERROR,
            spot,
            f"{when}{fold} and a fold of {names} come to lie in one place, and would have to pass"
            f" through each other{end}",
            "fold one of the two in an earlier step, so that it lies wholly within the other, or"
            " let it give the other way",
        )
    beyond = max(beyond_crease(part.folded, crease, name) for name in layers)
    by = shown(folded.book, beyond)
    return Finding(
        Severity.ERROR,
        spot,
        f"{when}{fold} closes round {names}, which would have to come through it by {by}{end}",
        f"let that fold be made in another step (what lies innermost is folded first), or shorten"
        f" {names} by {by}",
        Amount(beyond),
    )


def _at_panels(folded: FoldedBook, part: DistinctPart, clash: Clash) -> Finding:
    first, second = (panel_words(folded.book, part.key, n) for n in (clash.first, clash.second))
    return Finding(
        Severity.ERROR,
        Spot(part.key, clash.second),
        f"{_when(part, [clash.first, clash.second])}the {first} and the {second} would have to pass"
        f" through each other{and_others(part.number)}",
        "fold one of them in an earlier step, or part them by a slit",
    )


def _when(part: DistinctPart, panels: list[str]) -> str:
    step = last_moved(part.folded, panels)
    return f"in step {step}, " if step else ""


def _middle(part: Part, crease: FoldKey) -> Point:
    """Return the middle of the first piece of a fold on the flat part."""
    line = next(line for line in part.folds if line.key == crease)
    points = flattened(line.pieces[0])
    (x0, y0), (x1, y1) = points[0], points[-1]
    return Point((x0 + x1) / 2, (y0 + y1) / 2)
