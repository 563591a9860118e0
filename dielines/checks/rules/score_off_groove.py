"""A score falls between the grooves of the person's scoring board, from whichever edge one measures."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from ...book.book import Book, BookPart
from ...book.spans import measured
from ...folding.folded_book import FoldedBook
from ...lengths import Length
from ...paths import Bounds, Path, Point, bounds_of
from ...workshop.hand_tools import ScoringBoard
from ...workshop.machine import Scoring
from ...workshop.workshop import Workshop
from ..finding import Amount, Finding, Severity, Spot
from ..flat_shapes import FlatShapes, shapes_of
from ..words import DistinctPart, distinct_parts, shown

NAME = "score off groove"
WHY = (
    "Where scores are made by hand on a board with grooves, a score between two grooves has to be"
    " measured and made with a ruler. It is judged from both edges of the part."
)
WORST = Severity.REMARK
SOURCE = "geometry; the grooves are those of [scoring_board] in the workshop file"


@dataclass(frozen=True)
class _Off:
    """A score off the grooves: how far from which edge, the nearest groove, and where it is."""

    edge: str
    distance: Length
    groove: Length
    middle: Point

    @property
    def by(self) -> Fraction:
        """How far beyond the groove it lies, mm; negative where it lies before it."""
        return (self.distance - self.groove).mm


def check(folded: FoldedBook) -> Iterator[Finding]:
    """Yield at most one remark for each letter: the score that is farthest from a groove."""
    told = set()
    for part in distinct_parts(folded):
        letter = part.entry.letter
        if letter not in told and scores_by_hand(part.entry, folded.workshop):
            off = list(_scores_off(shapes_of(part.folded), folded.workshop.scoring_board))
            if off:
                told.add(letter)
                yield _finding(folded.book, part, off)


def scores_by_hand(entry: BookPart, workshop: Workshop) -> bool:
    """Return whether the scores of a part are left to the hand."""
    machine = workshop.machine
    return machine.scoring is Scoring.NONE or not machine.cuts(entry.stock)


def _scores_off(shapes: FlatShapes, board: ScoringBoard) -> Iterator[_Off]:
    page = bounds_of(shapes.part.outline[:1])
    for _, path in shapes.scores:
        ways = _distances(path, page)
        if ways and not any(board.has_groove_at(distance) for distance in ways.values()):
            box = bounds_of([path])
            middle = Point((box.left + box.right) / 2, (box.bottom + box.top) / 2)
            offs = [_Off(edge, d, _nearest(board, d), middle) for edge, d in ways.items()]
            yield min(offs, key=lambda off: abs(off.by))


def _distances(path: Path, page: Bounds) -> dict[str, Length]:
    """Return how far a level or upright score lies from the two edges beside it; nothing else."""
    box = bounds_of([path])
    if abs(float(box.width)) < 1e-6:
        return {"left": measured(box.left - page.left), "right": measured(page.right - box.left)}
    if abs(float(box.height)) < 1e-6:
        return {"top": measured(page.top - box.top), "bottom": measured(box.top - page.bottom)}
    return {}


def _nearest(board: ScoringBoard, distance: Length) -> Length:
    """Return the groove nearest to *distance*: from the fence to the last of them."""
    last = board.length / board.grooves
    return board.grooves * min(round(distance / board.grooves), last.__floor__())


def _finding(book: Book, part: DistinctPart, off: list[_Off]) -> Finding:
    worst = max(off, key=lambda one: abs(one.by))
    side = "beyond" if worst.by > 0 else "before"
    others = f"; {len(off)} scores of this part lie off the grooves" if len(off) > 1 else ""
    return Finding(
        Severity.REMARK,
        Spot(part.key, "", worst.middle),
        f"the score {shown(book, worst.distance.mm)} from the {worst.edge} edge lies"
        f" {shown(book, abs(worst.by))} {side} the nearest groove, at"
        f" {shown(book, worst.groove.mm)}{others}",
        "mark it with a ruler on both edges and score along the ruler, or change the sizes by that much",
        Amount(abs(worst.by)),
    )
