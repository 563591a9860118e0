"""A score, a perforation, a mark or a slit leaves the paper: outside the outline, or over a hole."""

from __future__ import annotations

from collections.abc import Iterator

from ...book.book import Book
from ...folding.folded_book import FoldedBook
from ...part import LineKind, Purpose
from ...paths import Path, Point, flattened
from ..finding import Amount, Finding, Severity, Spot
from ..flat_shapes import ROUNDING, SAGITTA, FlatShapes, shapes_of
from ..words import DistinctPart, and_others, distinct_parts, line_words, shown

LEAST = 0.05  #: mm; a shorter piece outside is rounding

LINES = {
    LineKind.FOLD: "the fold",
    LineKind.SLIT: "the slit",
    LineKind.PERFORATE: "the perforation",
}
STROKES = {
    Purpose.CUT: "a slit",
    Purpose.SCORE: "a score",
    Purpose.PERFORATE: "a perforation",
    Purpose.MARK: "a mark",
}

NAME = "score leaves part"
WHY = "What is scored, slit or marked has to lie on the paper of its part, not beyond it or over a hole."
WORST = Severity.ERROR
SOURCE = "geometry"


def check(folded: FoldedBook) -> Iterator[Finding]:
    """Yield each line that leaves the paper, and each text that begins beside it."""
    for part in distinct_parts(folded):
        shapes = shapes_of(part.folded)
        lines = list(_lines(folded.book, part))
        for (name, panel, _), outside in zip(lines, _outside(shapes, lines), strict=True):
            if outside is not None:
                yield _finding(folded, part, name, panel, *outside)
        yield from _lettering(folded, part, shapes)


def _lines(book: Book, entry: DistinctPart) -> Iterator[tuple[str, str, Path]]:
    """Yield what is drawn on a part: what it is, its panel, its path."""
    part = entry.part
    for line in part.lines:
        name = f"{LINES[line.kind]} {line_words(book, entry.key, line.key)}"
        yield from ((name, line.key.first, piece) for piece in line.pieces)
    for stroke in part.strokes:
        name = f"{STROKES[stroke.purpose]} {stroke.name.replace('_', ' ')}".strip()
        yield name, stroke.panel, stroke.path


def _outside(
    shapes: FlatShapes, lines: list[tuple[str, str, Path]]
) -> Iterator[tuple[float, Point] | None]:
    """Yield for each line how many mm of it lie outside the paper, and the middle of the longest."""
    from shapely import LinearRing, LineString, covers, difference, get_parts, length

    drawn = [
        (LinearRing if path.closed else LineString)(flattened(path, SAGITTA)) for *_, path in lines
    ]
    for line, is_inside in zip(drawn, covers(shapes.room, drawn), strict=True):
        pieces = get_parts(difference(line, shapes.room)) if not is_inside else ()
        lengths = length(pieces)
        if len(pieces) and lengths.max() > LEAST:
            middle = pieces[lengths.argmax()].interpolate(0.5, normalized=True)
            yield round(float(lengths.sum()), 2), Point(middle.x, middle.y)
        else:
            yield None


def _finding(
    folded: FoldedBook, part: DistinctPart, name: str, panel: str, length: float, middle: Point
) -> Finding:
    return Finding(
        Severity.ERROR,
        Spot(part.key, panel, middle),
        f"{shown(folded.book, length)} of {name} lies outside the paper{and_others(part.number)}",
        "shorten or move it, so that it ends on the paper",
        Amount(length),
    )


def _lettering(folded: FoldedBook, part: DistinctPart, shapes: FlatShapes) -> Iterator[Finding]:
    from shapely import Point as Place

    for text in part.part.lettering:
        off = float(shapes.paper.distance(Place(*map(float, text.at))))
        if off > ROUNDING:
            yield Finding(
                Severity.WARNING,
                Spot(part.key, text.panel, text.at),
                f"the text {text.text!r} begins {shown(folded.book, off)} beside the paper"
                f"{and_others(part.number)}",
                f"move it by {shown(folded.book, off)} or more",
                Amount(off),
            )
