"""An edge strip shows more on one side of its board than on the other."""

from __future__ import annotations

from collections.abc import Iterator

from ...folding.folded_book import FoldedBook
from ..case_cover import TurnedIn, cover_boards
from ..finding import Advice, Amount, Finding, Severity, Spot
from ..words import part_words, shown

ROLE = "edges"
NEARLY = 0.1  #: mm

NAME = "edge strip uneven"
WHY = (
    "A strip that is scored once in the middle shows half of its width outside and, inside, half less a"
    " board's thickness. Two scores, a board's thickness apart, make both alike."
)
WORST = Severity.REMARK
SOURCE = "geometry; common practice, no source"


def check(folded: FoldedBook) -> Iterator[Finding]:
    """Yield one remark for all strips that are uneven by the same."""
    uneven: dict[float, list[tuple[TurnedIn, float]]] = {}
    for board in cover_boards(folded):
        for turned in board.turned_in:
            off = turned.outside - turned.inside
            if turned.covering.entry.role == ROLE and _is_strip_edge(turned) and abs(off) > NEARLY:
                uneven.setdefault(round(off, 2), []).append((turned, board.thick))
    for off, strips in uneven.items():
        yield _finding(folded, off, strips)


def _is_strip_edge(turned: TurnedIn) -> bool:
    """Return whether the strip lies along this edge, and does not just end round its corner."""
    return turned.runs[1] - turned.runs[0] > turned.edge.length / 2


def _finding(folded: FoldedBook, off: float, strips: list[tuple[TurnedIn, float]]) -> Finding:
    book = folded.book
    turned, thick = strips[0]
    is_scored_once = book.request.usual.word("edge_scores") != "twice"
    is_usual = is_scored_once and abs(off - thick) <= NEARLY
    more = f" (and {len(strips) - 1} more strips)" if len(strips) > 1 else ""
    where, other = ("outside", "inside") if off > 0 else ("inside", "outside")
    return Finding(
        Severity.REMARK,
        Spot(turned.covering.key, turned.covering.panel),
        f"{part_words(book, turned.covering.key)} shows {shown(book, turned.outside)} outside and"
        f" {shown(book, turned.inside)} inside{more}",
        "score the strips twice, a board's thickness apart"
        if is_usual
        else f"lay it {shown(book, abs(off) / 2)} less far {where} and as much farther {other}",
        Amount(abs(off)),
        (Advice("usual.edge_scores", "twice"),) if is_usual else (),
    )
