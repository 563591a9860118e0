"""Two ways of taping lead to two places: the joins of a part do not agree."""

from __future__ import annotations

import math
from collections.abc import Iterator

from ...folding.assembly import Mismatch
from ...folding.case_places import BACK, FRONT, inside_heights, spine_key
from ...folding.folded_book import FoldedBook
from ..finding import Amount, Finding, Severity, Spot
from ..right_sizes import made, wider_spine
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
    for keys in _loose_together(folded):
        yield _loose(folded, keys)
    missed = [(m, found) for m in folded.assembly.mismatches for found in _missed(folded, m)]
    crowded = [found for mismatch, found in missed if _is_crowded(folded, mismatch)]
    yield from (found for _, found in missed if found not in crowded)
    if crowded:
        yield _too_many(folded, crowded)


def _is_crowded(folded: FoldedBook, mismatch: Mismatch) -> bool:
    """Return whether a channel has no place on the spine because that is too narrow for all of them."""
    join, (_, up) = mismatch.join, mismatch.shift
    is_page = folded.book.part(join.part).role == "pages"
    on_spine = is_page and join.onto_part == spine_key(folded.book)
    is_straight = mismatch.angle_deg <= TURNED and abs(float(up)) <= LEAST
    return on_spine and is_straight and bool(wider_spine(folded.book, folded.thickness))


def _too_many(folded: FoldedBook, crowded: list[Finding]) -> Finding:
    """Return what is wrong with all channels that a narrow spine has no place for, as one fault."""
    book = folded.book
    most = max(float(found.amount.value) for found in crowded if found.amount)
    advice = wider_spine(book, folded.thickness)
    channels = f"{len(crowded)} channels lie" if len(crowded) > 1 else "a channel lies"
    return Finding(
        Severity.ERROR if most > BUCKLES else Severity.WARNING,
        Spot(spine_key(book)),
        f"the spine is {shown(book, folded.thickness.spine)} wide, too narrow for its channels:"
        f" {channels} beside the place where the tape goes, by up to {shown(book, most)}",
        f"{made(book, advice, 'wide', (most, 'wider'))}, or choose narrower channels",
        Amount(most),
        advice,
    )


def _loose_together(folded: FoldedBook) -> list[list[str]]:
    """Return the parts that nothing holds to the rest, those that hang together as one."""
    wanted = [key for key in folded.assembly.loose if folded.book.part(key).role in HELD]
    group = {key: key for key in wanted}
    for join in folded.book.joins:
        if join.part in group and join.onto_part in group:
            old, new = group[join.part], group[join.onto_part]
            group = {key: new if mine == old else mine for key, mine in group.items()}
    found: dict[str, list[str]] = {}
    for key in wanted:
        found.setdefault(group[key], []).append(key)
    return list(found.values())


def _loose(folded: FoldedBook, keys: list[str]) -> Finding:
    words = part_words(folded.book, keys[0])
    more = f" (and {len(keys) - 1} more that hang together with it)" if len(keys) > 1 else ""
    return Finding(
        Severity.ERROR,
        Spot(keys[0]),
        f"no join holds {words}{more} to the rest of the book",
        f"tape {words} to what lies beside it",
        Amount(len(keys), "parts"),
    )


def _missed(folded: FoldedBook, mismatch: Mismatch) -> Iterator[Finding]:
    """Yield the worst of three: turned, beside its place, or too far off to stick."""
    beside = _beside(folded, mismatch)
    if mismatch.angle_deg > TURNED:
        yield _turned(folded, mismatch)
    elif beside > LEAST:
        yield _aside(folded, mismatch, beside)
    elif _is_far(folded, mismatch):
        yield _off(folded, mismatch)


def _is_far(folded: FoldedBook, mismatch: Mismatch) -> bool:
    """Return whether a join is too near or too far; what is left round the spine is its play."""
    case = folded.assembly.case
    if case is not None and mismatch.join is case.joins[BACK]:
        return False
    return abs(mismatch.along_normal) > _given(folded, mismatch) + LEAST


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
    """Return by how much a join may be too near or too far: two layers of its paper and their tape.

    So much is folded round the end of a strip; of a board and a paper the paper gives.
    """
    join, book = mismatch.join, folded.book
    calipers = (book.part(key).stock.caliper.mm for key in (join.part, join.onto_part))
    return float(4 * min(calipers) + 2 * book.tape.thickness.mm)


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
