"""A fold crosses a zone of tape."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from ...book.book import Book
from ...folding.folded_book import FoldedBook
from ...part import Purpose, Zone
from ...paths import Path, Point
from ..finding import Amount, Finding, Severity, Spot
from ..flat_shapes import Piece, pieces_of
from ..tape_zones import within
from ..words import DistinctPart, and_others, distinct_parts, line_words, panel_words, shown

NAME = "fold in tape"
WHY = (
    "Tape across a fold makes it stiff and creeps out of it. A score that rests flat is no fold: tape"
    " may cross it."
)
WORST = Severity.WARNING
SOURCE = "common practice"

_Fold = tuple[str, Sequence[Piece]]


def check(folded: FoldedBook) -> Iterator[Finding]:
    """Yield each zone of tape with the longest piece of a fold that crosses it."""
    for part in distinct_parts(folded):
        folds = [(name, list(pieces_of(paths))) for name, paths in _folds(folded.book, part)]
        together = [piece for _, pieces in folds for piece in pieces]
        for zone in part.part.zones:
            is_crossed = within(zone.path, together) is not None
            crossing = _longest(folds, zone) if is_crossed else None
            if crossing is not None:
                yield _finding(folded, part, zone, *crossing)


def _longest(folds: Sequence[_Fold], zone: Zone) -> tuple[float, Point, str] | None:
    """Return how much of a fold lies within *zone*, its middle and its name; None without any."""
    crossings = [
        (*found, name) for name, pieces in folds if (found := within(zone.path, pieces)) is not None
    ]
    return max(crossings, default=None)


def _folds(book: Book, entry: DistinctPart) -> Iterator[tuple[str, Sequence[Path]]]:
    """Yield what is folded, by name: lines that get an angle in any step, and scores drawn with one."""
    part = entry.part
    moved = {key for step in part.steps for key, angle in step.angles_deg if angle}
    for line in part.folds:
        if line.angle_deg or line.key in moved:
            yield f"the fold {line_words(book, entry.key, line.key)}", line.pieces
    for stroke in part.strokes:
        if stroke.purpose is Purpose.SCORE and stroke.angle_deg:
            yield stroke.name or "a score", (stroke.path,)


def _finding(
    folded: FoldedBook, part: DistinctPart, zone: Zone, length: float, middle: Point, name: str
) -> Finding:
    words = panel_words(folded.book, part.key, zone.panel)
    return Finding(
        Severity.WARNING,
        Spot(part.key, zone.panel, middle),
        f"{name} runs for {shown(folded.book, length)} through the tape on the {zone.side.value}"
        f" of the {words}{and_others(part.number)}",
        "end the tape at the fold",
        Amount(length),
    )
