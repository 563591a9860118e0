"""How far mitres lie over each other: more than is neat, or other than the handbook has it."""

from __future__ import annotations

from collections.abc import Iterator

from ...book.book import BookPart
from ...folding.folded_book import FoldedBook
from ...paths import Point
from ..finding import Amount, Finding, Severity, Spot
from ..mitres import corner_words, side_words, thickest_board
from ..strip_corners import StripCorner, strip_corners
from ..words import part_words, shown
from ..wrap_corners import WrapCorner, wrap_corners

NEARLY = 0.1  #: mm along the edge
HANDBOOK = 1.5  #: board thicknesses from the corner to the cut (University of Brighton worksheet)
FREE = 0.5  #: board thicknesses by which a cut may differ from that without a word (m)
MOST = 2.0  #: board thicknesses of overlap from which on the doubled paper shows (m)

NAME = "mitre overlap"
WHY = (
    "Where mitres lie over each other the corner is thicker. A cut that passes the corner of the board at 1.5"
    " of its thickness makes them overlap by 1.12 thicknesses, which is enough to be safe."
)
WORST = Severity.WARNING
SOURCE = (
    "University of Brighton worksheet on a corner cutter: 3 mm for a board of 2 mm, 1.5 thicknesses;"
    " overlap sqrt 2 d - t derived; where it is too much: from memory"
)


def check(folded: FoldedBook) -> Iterator[Finding]:
    """Yield corners of strips that overlap, and cuts of wraps that are not the handbook's."""
    for corner in strip_corners(folded):
        if corner.is_mitred and corner.overlap > NEARLY:
            yield _of_strips(folded, corner)
    thick = thickest_board(folded.book)
    for entry in folded.book.parts if thick else ():
        for wrapped in wrap_corners(entry.part, thick):
            is_free = abs(wrapped.allowance / thick - HANDBOOK) <= FREE
            if not is_free and wrapped.gap <= NEARLY:
                yield _of_wrap(folded, entry, wrapped)


def _of_strips(folded: FoldedBook, corner: StripCorner) -> Finding:
    book, overlap = folded.book, corner.overlap
    first, second = (part_words(book, t.covering.key) for t in (corner.first, corner.second))
    return Finding(
        _severity(overlap, corner.board.thick),
        Spot(corner.first.covering.key, corner.first.covering.panel),
        f"{first} and {second} overlap by {shown(book, overlap)} {side_words(corner.side)} the corner"
        f" {corner_words(corner)}, where their mitres should just meet",
        f"make the strips {shown(book, overlap / 2)} shorter each at this corner",
        Amount(overlap),
    )


def _severity(overlap: float, thick: float) -> Severity:
    return Severity.WARNING if overlap > MOST * thick else Severity.REMARK


def _of_wrap(folded: FoldedBook, entry: BookPart, corner: WrapCorner) -> Finding:
    book, thick = folded.book, corner.thick
    return Finding(
        _severity(corner.overlap, thick),
        Spot(entry.key, corner.first.panel, Point(*corner.place)),
        f"{part_words(book, entry.key)}: the cuts pass a corner at {corner.allowance / thick:.1f} thicknesses of"
        f" the board, so the turn-ins overlap by {shown(book, corner.overlap)}; handbooks have {HANDBOOK:g}"
        f" thicknesses",
        f"cut at {shown(book, HANDBOOK * thick)} from the corner",
        Amount(corner.overlap),
    )
