"""One score is folded shut round layers that need a gusset."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from ...folding.bends import NEUTRAL_AXIS, bend_allowance
from ...folding.folded_book import FoldedBook
from ...paths import Point
from ..finding import Amount, Finding, Severity, Spot
from ..folded_edges import Inside, Nook, Ruler, inside, nooks, ruler_of
from ..right_sizes import fine
from ..words import DistinctPart, and_others, distinct_parts, panel_words

#: mm of layers that one score goes round: two sheets of heavy cardstock (m)
MOST = 0.6
SAMPLES = 6  #: lines looked at from the fold to there
REACH = 3.0  #: mm from a fold; what ends farther away does not fill it (m)

NAME = "single score round layers"
WHY = (
    "A fold shut round n layers needs a gusset of n thicknesses between two scores; one score"
    " alone cracks, or springs open."
)
WORST = Severity.WARNING
SOURCE = (
    "common practice: a gusset of at least n times the thickness; that one score does for"
    f" {MOST:g} mm, and that what ends {REACH:g} mm from it does not matter, are from memory;"
    f" bend allowance with K = {NEUTRAL_AXIS:g}, an assumption"
)


def check(folded: FoldedBook) -> Iterator[Finding]:
    """Yield every fold that is shut round more than one score goes round."""
    for part in distinct_parts(folded):
        for nook in nooks(part.folded):
            if not nook.wall:
                yield from _too_thick(folded, part, nook)


def _too_thick(folded: FoldedBook, part: DistinctPart, nook: Nook) -> Iterator[Finding]:
    ruler = ruler_of(part.part, nook)
    filling = _filling(ruler, list(inside(part.folded, nook)))
    thick = _thickness(folded, part, filling)
    if thick <= MOST:
        return
    book, key = folded.book, part.key
    names = [panel_words(book, key, name) for name in (nook.first, nook.second)]
    allowance = bend_allowance(180, float(part.entry.stock.caliper.mm), thick / 2)
    yield Finding(
        Severity.WARNING,
        Spot(key, nook.first, _middle(nook)),
        f"one score between {names[0]} and {names[1]} is folded shut round {len(filling)}"
        f" layer{'s' if len(filling) > 1 else ''}, {fine(book, thick)} thick"
        f"{and_others(part.number)}",
        f"put two scores there, {fine(book, thick)} apart or more; round the layers the paper"
        f" takes up {fine(book, allowance)}",
        Amount(thick - MOST),
    )


def _filling(ruler: Ruler, panels: Sequence[Inside]) -> list[Inside]:
    """Return the most panels that lie over one point near a fold."""
    depths = [REACH * step / SAMPLES for step in range(1, SAMPLES + 1)]
    places = [sum(_reach(ruler, panel)) / 2 for panel in panels]
    found = (
        [p for p in panels if _lies_over(ruler, p, depth, along)]
        for depth in depths
        for along in places
    )
    return max(found, key=len, default=[])


def _reach(ruler: Ruler, panel: Inside) -> tuple[float, float]:
    """Return from where to where a panel lies along a fold, as far as the fold goes."""
    along = [ruler.along(point) for point in panel.outline.points]
    return max(0.0, min(along)), min(ruler.length, max(along))


def _lies_over(ruler: Ruler, panel: Inside, depth: float, along: float) -> bool:
    """Return whether the rectangle around a panel holds a point so far inside of and along a fold."""
    depths = [ruler.depth(point) for point in panel.outline.points]
    start, end = _reach(ruler, panel)
    return min(depths) < depth <= max(depths) and start < along < end


def _thickness(folded: FoldedBook, part: DistinctPart, filling: list[Inside]) -> float:
    """Return the thickness of panels inside a fold, with the tape that they carry."""
    names = {panel.panel for panel in filling}
    taped = {zone.panel for zone in part.part.zones if zone.panel in names}
    tape = float(folded.book.tape.thickness.mm)
    return float(part.entry.stock.caliper.mm) * len(names) + tape * len(taped)


def _middle(nook: Nook) -> Point:
    points = [point for piece in nook.line.pieces for point in piece.points]
    (ax, ay), (bx, by) = points[0], points[-1]
    return Point((ax + bx) / 2, (ay + by) / 2)
