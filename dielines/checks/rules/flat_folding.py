"""Folds meet inside the paper in a way that cannot be folded flat."""

from __future__ import annotations

from collections.abc import Iterator

from ...folding.folded_book import FoldedBook
from ...folding.vertices import NIPPED, Vertex, inner_vertices
from ..finding import Amount, Finding, Severity, Spot
from ..words import and_others, distinct_parts

NAME = "flat folding"
WHY = (
    "Where folds meet inside the paper and all are folded flat, sectors taken alternately add up"
    " to 180 degrees, and valleys and mountains differ by two."
)
WORST = Severity.ERROR
SOURCE = "theorems of Kawasaki and Justin, and of Maekawa and Justin"


def check(folded: FoldedBook) -> Iterator[Finding]:
    """Yield each vertex inside the paper at which the theorems say no."""
    for part in distinct_parts(folded):
        if part.part.stock == NIPPED:
            continue
        for vertex in inner_vertices(part.part):
            if vertex.is_flat and not vertex.can_fold_flat:
                what, remedy, amount = _fault(vertex)
                yield Finding(
                    Severity.ERROR,
                    Spot(part.key, vertex.rays[0].key.second, vertex.point),
                    f"{what}{and_others(part.number)}",
                    remedy,
                    amount,
                )


def _fault(vertex: Vertex) -> tuple[str, str, Amount]:
    """Return what is wrong at *vertex*, what to do, and by how much."""
    count = len(vertex.rays)
    if not vertex.has_even_folds:
        one = "one fold ends" if count == 1 else f"{count} folds meet"
        return (
            f"{one} inside the paper, and an odd number cannot be folded flat",
            "let the fold run on to an edge or a slit, or add the one that is missing",
            Amount(count, "folds"),
        )
    if abs(vertex.surplus) != 2:
        valleys = (count + vertex.surplus) // 2
        return (
            f"{valleys} valleys and {count - valleys} mountains meet inside the paper; flat paper"
            " needs two more of one than of the other",
            "let one of the folds give the other way",
            Amount(abs(abs(vertex.surplus) - 2) // 2, "folds"),
        )
    off = abs(vertex.alternating_deg) / 2
    return (
        f"the sectors around a point inside the paper, taken alternately, add up to"
        f" {180 + off:.1f} and {180 - off:.1f} degrees instead of 180 each",
        f"turn one of the folds there by {off:.1f} degrees",
        Amount(off, "degrees"),
    )
