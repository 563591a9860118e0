"""A panel sticks out beyond the outline that it folds into."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from ...book.inserts import ROLE as INSERTS
from ...folding.folded_book import FoldedBook
from ...folding.lids import still_pairs, tied
from ...folding.pockets import GRAFTED
from ...landing import PARALLEL
from ...paths import Number, Point
from ...rigid import relative
from ..directions import side_of_way, side_words
from ..finding import Amount, Finding, Severity, Spot
from ..outline_hull import Beyond, Hull, beyond, corners_of, hull_of
from ..seams import NEAR, curved_pairs
from ..words import DistinctPart, and_others, distinct_parts, panel_words, shown

NAME = "sticks out"
WHY = (
    "What is folded over a page ends with the page: what sticks out shows, bends and catches. Farther"
    " than the square it comes out of the cover, and past the binding edge it is in the way of the"
    " spine."
)
WORST = Severity.ERROR
SOURCE = "geometry"

BINDING_EDGE = "binding edge"


class _Base(NamedTuple):
    """The panels that the others fold over, and the outline around them."""

    root: str
    names: frozenset[str]
    hull: Hull


def check(folded: FoldedBook) -> Iterator[Finding]:
    """Yield each panel of a page or an insert that sticks out once it is folded."""
    for part in distinct_parts(folded):
        if _is_folded_upon_itself(part):
            base = _base(part)
            for name in part.folded.outlines:
                found = _beyond(part, base, name)
                if found is not None and found.distance > NEAR:
                    yield _finding(folded, part, base, name, found)


def _is_folded_upon_itself(part: DistinctPart) -> bool:
    """Return whether a part has an outline of its own; strips that only join others have none."""
    is_page = part.entry.role == "pages" and part.key.startswith("page-")
    return len(part.part.panels) > 1 and (is_page or part.entry.role == INSERTS)


def _base(part: DistinctPart) -> _Base:
    root = part.folded.root
    names = tied(root, [*still_pairs(part.part), *curved_pairs(part.part)])
    return _Base(root, names, hull_of(part.folded.outlines[name] for name in sorted(names)))


def _beyond(part: DistinctPart, base: _Base, name: str) -> Beyond | None:
    """Return how far a panel sticks out; what a binding added goes elsewhere.

    Of what stands or leans only that of a page counts: an insert may be a box or a stand.
    """
    if name in base.names or name.startswith(GRAFTED):
        return None
    poses = part.folded.poses
    motion = relative(poses[base.root], poses[name])
    is_level = all(abs(float(slope)) <= PARALLEL for slope in motion.rotation[2][:2])
    if not is_level and part.entry.role == INSERTS:
        return None
    corners = corners_of(part.folded.outlines[name])
    found = [(beyond(base.hull, [motion.at(corner)[:2]]), corner) for corner in corners]
    outside = [(b, corner) for b, corner in found if b is not None]
    if not outside:
        return None
    farthest, corner = max(outside, key=lambda pair: pair[0].distance)
    return farthest._replace(place=Point(*corner))


def _finding(
    folded: FoldedBook, part: DistinctPart, base: _Base, name: str, found: Beyond
) -> Finding:
    book = folded.book
    side = side_words(folded, part.key, base.root, side_of_way(*found.way))
    is_out = found.distance > _square(folded) or side == BINDING_EDGE
    by = shown(book, found.distance)
    return Finding(
        Severity.ERROR if is_out else Severity.WARNING,
        Spot(part.key, name, found.place),
        f"folded, the {panel_words(book, part.key, name)} sticks out at the {side} by {by}"
        f" beyond the {panel_words(book, part.key, base.root)}{and_others(part.number)}",
        f"make it shorter by {by}, or move its fold by as much",
        Amount(found.distance),
    )


def _square(folded: FoldedBook) -> Number:
    """Return by how much the boards are larger than the pages; 0 where the book does not say."""
    try:
        return folded.book.reasons.length("square").mm
    except KeyError:
        return 0
