"""An edge inside a fold ends exactly on that fold."""

from __future__ import annotations

from collections.abc import Iterator

from ...folding.bends import NEUTRAL_AXIS, bend_allowance
from ...folding.folded_book import FoldedBook
from ...lengths import inches
from ...part import Part
from ...paths import Point
from ..finding import Amount, Finding, Severity, Spot
from ..folded_edges import Inside, Nook, Ruler, inside, nooks, ruler_of
from ..right_sizes import fine
from ..words import DistinctPart, and_others, distinct_parts, panel_words, shown

#: What an edge is shortened by so that it clears a fold (m).
CLEAR = float(inches("1/32").mm)
BEYOND = 1e-3  #: mm; an edge farther out than this goes through the fold, which is another fault
SHORTEST = 1.0  #: mm of an edge on a fold that are worth a word (m)

NAME = "zero clearance"
WHY = (
    "A panel that is folded in, and ends exactly where the paper around it turns, has no room:"
    " the fold takes up paper itself. Shortened by 1/32 in it lies flat."
)
WORST = Severity.WARNING
SOURCE = (
    "1/32 in is from memory; the bend allowance is pi/180 A (R + K t) with R = 0 and"
    f" K = {NEUTRAL_AXIS:g}, an assumption (sheet-metal texts; none is published for paper)"
)


def check(folded: FoldedBook) -> Iterator[Finding]:
    """Yield every panel whose edge, or next fold, lies on the inside of a fold around it."""
    for part in distinct_parts(folded):
        caliper = float(part.entry.stock.caliper.mm)
        for nook in nooks(part.folded):
            ruler = ruler_of(part.part, nook)
            for panel in inside(part.folded, nook):
                clearance = _clearance(ruler, panel, caliper)
                if clearance is not None:
                    is_tight = not nook.wall or _goes_on(ruler, panel, caliper)
                    yield _finding(folded, part, nook, panel, clearance, is_tight)


def _clearance(ruler: Ruler, panel: Inside, caliper: float) -> float | None:
    """Return how far inside the fold an edge of a panel ends; None where none is too near."""
    found = [
        max(0.0, ruler.depth(segment.start), ruler.depth(segment.end))
        for segment in panel.outline.segments()
        if not segment.bulge and _is_at_fold(ruler, segment.start, segment.end, caliper)
    ]
    return min(found, default=None)


def _is_at_fold(ruler: Ruler, start: Point, end: Point, caliper: float) -> bool:
    is_near = all(-BEYOND <= ruler.depth(p) < caliper - BEYOND for p in (start, end))
    return is_near and ruler.beside(start, end) > SHORTEST


def _goes_on(ruler: Ruler, panel: Inside, caliper: float) -> bool:
    """Return whether the panel is folded there itself, so that two folds want one place."""
    ends = [(piece.points[0], piece.points[-1]) for piece in panel.folds]
    return any(_is_at_fold(ruler, Point(*a), Point(*b), caliper) for a, b in ends)


def _finding(
    folded: FoldedBook,
    part: DistinctPart,
    nook: Nook,
    panel: Inside,
    clearance: float,
    is_tight: bool,
) -> Finding:
    book, key = folded.book, part.key
    first, second, name = (
        panel_words(book, key, n) for n in (nook.first, nook.second, panel.panel)
    )
    around = panel_words(book, key, nook.wall) if nook.wall else "the fold"
    lacking = CLEAR - clearance
    return Finding(
        Severity.WARNING if is_tight else Severity.REMARK,
        Spot(key, panel.panel, _spot(part.part, panel.panel)),
        f"{name} lies between {first} and {second} and ends exactly at {around}, which takes up"
        f" {fine(book, _taken_up(part, nook))} of paper{and_others(part.number)}",
        f"shorten {name} by {shown(book, lacking)}",
        Amount(lacking),
    )


def _taken_up(part: DistinctPart, nook: Nook) -> float:
    caliper = float(part.entry.stock.caliper.mm)
    return bend_allowance(float(nook.line.angle_deg), caliper)


def _spot(part: Part, panel: str) -> Point:
    box = part.panel(panel).bounds()
    return Point((box.left + box.right) / 2, (box.bottom + box.top) / 2)
