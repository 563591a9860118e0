"""Two ways of taping lead to two places: the joins of a part do not agree."""

from __future__ import annotations

import math
from collections.abc import Iterator

from ...folding.assembly import Mismatch
from ...folding.case_places import BACK, FRONT, inside_heights, spine_key
from ...folding.folded_book import FoldedBook
from ..finding import Amount, Finding, Severity, Spot
from ..words import panel_words, part_words, shown

NAME = "joins disagree"
WHY = (
    "A part that is taped in more than one place can only be where all its tapes have it; where"
    " they would have it in two places, it buckles or tears off. A part that nothing holds falls out."
)
WORST = Severity.ERROR
SOURCE = (
    "geometry: each join that is not needed to place a part, held against the place that the others"
    " give it; how much paper gives: from memory"
)

LEAST = 0.05  #: mm; what misses by less does not show
BUCKLES = 1.0  #: mm beside its place from which a join does not hold flat (m)
TURNED = 0.05  #: degrees; what is turned by less does not show
ASKEW = 0.5  #: degrees from which a join does not hold flat (m)
HELD = frozenset({"pages", "boards", "wrap", "lining", "edges"})  #: roles that something must hold


def check(folded: FoldedBook) -> Iterator[Finding]:
    """Yield the parts that nothing holds, then each join that misses its place."""
    for key in folded.assembly.loose:
        if folded.book.part(key).role in HELD:
            yield _loose(folded, key)
    for mismatch in folded.assembly.mismatches:
        yield from _missed(folded, mismatch)


def _loose(folded: FoldedBook, key: str) -> Finding:
    words = part_words(folded.book, key)
    return Finding(
        Severity.ERROR,
        Spot(key),
        f"no join holds {words} to the rest of the book",
        f"tape {words} to what lies beside it",
        Amount(1, "part"),
    )


def _missed(folded: FoldedBook, mismatch: Mismatch) -> Iterator[Finding]:
    """Yield the worst of three: turned, beside its place, or too far off to stick."""
    beside = _beside(folded, mismatch)
    if mismatch.angle_deg > TURNED:
        yield _turned(folded, mismatch)
    elif beside > LEAST:
        yield _aside(folded, mismatch, beside)
    elif abs(mismatch.along_normal) > _given(folded, mismatch) + LEAST:
        yield _off(folded, mismatch)


def _beside(folded: FoldedBook, mismatch: Mismatch) -> float:
    """Return how far a join lies beside its place, mm, but for what play and bulk bring with them.

    Along the spine a channel lies farther on by the junctions before it; a cover tab
    is longer than its way in the closed book.
    """
    across, up = (float(v) for v in mismatch.shift)
    onto = mismatch.join.onto_part
    if onto in (FRONT, BACK) and mismatch.join.order in _tree(folded):
        across = 0.0
    elif onto == spine_key(folded.book) and folded.book.part(mismatch.join.part).role == "pages":
        across = max(0.0, abs(across) - _bulk(folded) / 2 - _junction(folded, mismatch))
    return math.hypot(across, up)


def _tree(folded: FoldedBook) -> set[int]:
    return {join.order for join in folded.assembly.tree}


def _bulk(folded: FoldedBook) -> float:
    """Return how much thicker the block is than its channels are wide: its glued junctions."""
    assembly = folded.assembly
    back, front = inside_heights(assembly.bench, assembly.places)
    return abs(front - back - float(folded.book.reasons.length("channels").mm))


def _junction(folded: FoldedBook, mismatch: Mismatch) -> float:
    """Return how thick one junction is: where halves are not alike, one has one more."""
    paper = folded.book.part(mismatch.join.part).stock.caliper.mm
    return float(paper + folded.book.tape.thickness.mm)


def _given(folded: FoldedBook, mismatch: Mismatch) -> float:
    """Return by how much a join may be too near or too far: what is folded round both its layers."""
    join, book = mismatch.join, folded.book
    layers = book.part(join.part).stock.caliper.mm + book.part(join.onto_part).stock.caliper.mm
    return float(2 * layers + 2 * book.tape.thickness.mm)


def _words(folded: FoldedBook, mismatch: Mismatch) -> str:
    book, join = folded.book, mismatch.join
    return (
        f"the {panel_words(book, join.part, join.panel)} of {part_words(book, join.part)}, held by"
        f" its other joins, does not meet {part_words(book, join.onto_part)}"
    )


def _aside(folded: FoldedBook, mismatch: Mismatch, beside: float) -> Finding:
    by = shown(folded.book, beside)
    return Finding(
        Severity.ERROR if beside > BUCKLES else Severity.WARNING,
        Spot(mismatch.join.part, mismatch.join.panel),
        f"{_words(folded, mismatch)} where its tape goes: it is {by} beside it",
        f"move one of its joins by {by}",
        Amount(beside),
    )


def _off(folded: FoldedBook, mismatch: Mismatch) -> Finding:
    gap = mismatch.along_normal
    by = shown(folded.book, abs(gap))
    how = f"a gap of {by} is left" if gap > 0 else f"it would lie {by} inside it"
    return Finding(
        Severity.ERROR if abs(gap) > BUCKLES + _given(folded, mismatch) else Severity.WARNING,
        Spot(mismatch.join.part, mismatch.join.panel),
        f"{_words(folded, mismatch)}: {how}",
        f"change what keeps the two apart by {by}",
        Amount(abs(gap)),
    )


def _turned(folded: FoldedBook, mismatch: Mismatch) -> Finding:
    angle = mismatch.angle_deg
    return Finding(
        Severity.ERROR if angle > ASKEW else Severity.WARNING,
        Spot(mismatch.join.part, mismatch.join.panel),
        f"{_words(folded, mismatch)} flat: it is turned by {angle:.1f} degrees",
        f"turn one of its joins, or a fold between them, by {angle:.1f} degrees",
        Amount(angle, "degrees"),
    )
