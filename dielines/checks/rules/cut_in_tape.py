"""A cut, a slit, a window or a punched hole lies within a zone of tape."""

from __future__ import annotations

from collections.abc import Iterator

from ...folding.folded_book import FoldedBook
from ...part import Part, Purpose, Zone
from ...paths import Point, rectangle
from ..finding import Amount, Finding, Severity, Spot
from ..flat_shapes import FlatShapes, Piece, pieces_of, shapes_of
from ..tape_zones import within
from ..words import DistinctPart, and_others, distinct_parts, panel_words, part_words, shown

NAME = "cut in tape"
WHY = (
    "Tape over a cut is cut as well and gums the blade, shows through a window, or glues a slit shut."
    " A slit that the tape of another part comes to cover is a remark: it may be cut after gluing."
)
WORST = Severity.WARNING
SOURCE = "geometry, common practice"


def check(folded: FoldedBook) -> Iterator[Finding]:
    """Yield each zone with a cut in it, then the slits that tape of other parts covers."""
    for part in distinct_parts(folded):
        shapes = shapes_of(part.folded)
        for zone in part.part.zones:
            cut = within(zone.path, _cuts(shapes))
            if cut is not None:
                yield _in_own_tape(folded, part, zone, *cut)
    yield from _covered(folded)


def _cuts(shapes: FlatShapes) -> list[Piece]:
    """Return the pieces of all cuts and perforations of a part."""
    perforated = [s.path for s in shapes.part.strokes if s.purpose is Purpose.PERFORATE]
    return [*shapes.cut_pieces, *pieces_of(perforated)]


def _in_own_tape(
    folded: FoldedBook, part: DistinctPart, zone: Zone, inside: float, middle: Point
) -> Finding:
    book = folded.book
    words = panel_words(book, part.key, zone.panel)
    return Finding(
        Severity.WARNING,
        Spot(part.key, zone.panel, middle),
        f"{shown(book, inside)} of a cut lies within the tape on the {zone.side.value} of the"
        f" {words}{and_others(part.number)}",
        "end the tape before the cut, or move the cut out of it",
        Amount(inside),
    )


def _covered(folded: FoldedBook) -> Iterator[Finding]:
    """Yield the slits and windows of each kind of page that tape of another part covers."""
    book, told = folded.book, set()
    for join in book.joins:
        target = book.part(join.onto_part)
        if join.part == join.onto_part or not _has_inner_cuts(target.part):
            continue
        if (target.letter, join.onto_panel) in told:
            continue
        left, bottom = join.offset
        tape = rectangle(left, bottom, left + join.width, bottom + join.height)
        cut = within(tape, _cuts(shapes_of(folded.parts[target.key])))
        if cut is not None:
            told.add((target.letter, join.onto_panel))
            inside, middle = cut
            yield Finding(
                Severity.REMARK,
                Spot(target.key, join.onto_panel, middle),
                f"the tape of {part_words(book, join.part)} covers {shown(book, inside)} of a cut in"
                f" the {panel_words(book, target.key, join.onto_panel)}",
                "cut it after gluing, or make what it is for narrower",
                Amount(inside),
            )


def _has_inner_cuts(part: Part) -> bool:
    return len(part.outline) > 1 or any(stroke.purpose is Purpose.CUT for stroke in part.strokes)
