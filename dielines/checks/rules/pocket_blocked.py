"""Tape, a wall or a seam stands in a pocket, or in its mouth."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from ...folding.cavities import Cavity
from ...folding.cavity_walls import Closing
from ...folding.folded_book import FoldedBook
from ...folding.folded_part import FoldedPart
from ...folding.lids import SAGITTA, motion_to
from ...folding.pockets import Pocket
from ...lengths import Length
from ...part import exact_length
from ...paths import Bounds, flattened
from ..bays import bays_of
from ..directions import middle_of, pocket_words, side_words
from ..finding import Advice, Amount, Finding, Severity, Spot
from ..words import and_others, panel_words, shown
from .mouth import distinct_cavities

NAME = "pocket blocked"
WHY = (
    "What goes into a pocket needs its mouth and its whole depth: tape across either glues it shut in"
    " part, and a seam behind the thumb notch closes that."
)
WORST = Severity.ERROR
SOURCE = "geometry; shares of mouth and depth that have to be free are from memory"

LEAST_MOUTH = 0.5  #: share of the mouth that one opening has to have
LEAST_DEPTH = 0.75  #: share of the way in that has to be free
LEAST_AREA = 1.0  #: mm2; less of a seam in a notch is rounding


def check(folded: FoldedBook) -> Iterator[Finding]:
    """Yield each pocket whose mouth, depth or notch is not free."""
    for key, alike, cavities in distinct_cavities(folded):
        for cavity in cavities:
            words = pocket_words(folded, key, cavity.mouth.panel)
            yield from _faults(folded, key, cavity, words, and_others(alike))


def _faults(
    folded: FoldedBook, key: str, cavity: Cavity, words: str, others: str
) -> Iterator[Finding]:
    side = cavity.sides.get(cavity.mouth.side)
    if side is None or side.closing is not Closing.OPEN or cavity.pocket is None:
        return
    book = folded.book
    spot = Spot(key, cavity.mouth.panel, middle_of(cavity.mouth.start, cavity.mouth.end))
    mouth = side_words(folded, key, cavity.mouth.panel, cavity.mouth.side)
    whole, deep = _mouth_and_depth(cavity.mouth.side, cavity.frame)
    largest = max(opening.length for opening in side.openings)
    if len(side.openings) > 1 or largest < LEAST_MOUTH * whole:
        shut = whole - (largest if len(side.openings) < 2 else sum(o.length for o in side.openings))
        yield Finding(
            Severity.ERROR,
            spot,
            f"{words} is blocked at its mouth, the {mouth}: {shown(book, largest)} of"
            f" {shown(book, whole)} are free in one piece{others}",
            f"take away the tape or the wall that crosses the {mouth}, {shown(book, shut)} wide",
            Amount(shut),
        )
    free = _mouth_and_depth(cavity.mouth.side, cavity.free)[1]
    if free < LEAST_DEPTH * deep:
        yield Finding(
            Severity.ERROR,
            spot,
            f"{words} is blocked {shown(book, free)} in, of {shown(book, deep)}{others}",
            f"take away the tape or the wall that crosses it, or move it {shown(book, deep - free)}",
            Amount(deep - free),
        )
    yield from _behind_notch(folded, key, cavity.pocket, cavity.mouth.side, others)


def _mouth_and_depth(side: str, box: Bounds) -> tuple[float, float]:
    """Return the extent of a box along its mouth and inwards from it."""
    width, height = float(box.width), float(box.height)
    return (height, width) if side in ("left", "right") else (width, height)


class _Reach(NamedTuple):
    """How far a seam reaches into a notch along the mouth (mm), and by how much their bounds overlap."""

    into: float
    bounds: float


def _behind_notch(
    folded: FoldedBook, key: str, pocket: Pocket, side: str, others: str
) -> Iterator[Finding]:
    book, part = folded.book, folded.parts[key]
    for seam in pocket.seams:
        reach = _in_notch(part, pocket, seam, side)
        if reach is not None:
            name, by = panel_words(book, key, seam), shown(book, reach.into)
            yield Finding(
                Severity.WARNING,
                Spot(key, seam, middle_of(*part.outlines[seam].points[:2])),
                f"the {name} reaches {by} into the thumb notch of"
                f" {pocket_words(folded, key, pocket.front)}{others}",
                f"make the {name} narrower by {by}, or the notch smaller",
                Amount(reach.into),
                tuple(_narrower(folded, key, reach)),
            )


def _in_notch(part: FoldedPart, pocket: Pocket, seam: str, side: str) -> _Reach | None:
    """Return how far a seam reaches into a notch of front or back; None where it does not."""
    from shapely import Polygon

    motion = motion_to(part, pocket.front, seam)
    corners = [motion.at(point)[:2] for point in flattened(part.outlines[seam], SAGITTA)]
    lying = Polygon([(float(x), float(y)) for x, y in corners])
    found = []
    for panel in (pocket.front, pocket.back):
        for bay in bays_of(part, panel, pocket.front):
            shared = bay.shape.intersection(lying)
            if shared.area > LEAST_AREA:
                around = bay.shape.envelope.intersection(lying.envelope)
                extents = (_mouth_and_depth(side, Bounds(*s.bounds)) for s in (shared, around))
                found.append(_Reach(*(along for along, _ in extents)))
    return max(found, default=None)


def _narrower(folded: FoldedBook, key: str, reach: _Reach) -> Iterator[Advice]:
    """Yield the width of seams that ends them at the notch, where the page's template asks for it."""
    seam = folded.book.part(key).part.parameters.get("seam")
    for page in folded.book.request.pages:
        is_of_page = key == f"page-{page.number}" or key.startswith(f"page-{page.number}-")
        if is_of_page and isinstance(seam, Length):
            width = exact_length(float(seam.mm) - reach.bounds)
            yield Advice(f"page.{page.number}.seam", width)
