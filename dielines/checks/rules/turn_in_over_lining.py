"""The spine lining does not cover the ends of the turn-ins, leaves the spine bare, or sticks out."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from ...folding.folded_book import FoldedBook
from ...part import Side
from ...paths import Bounds, bounds_of
from ..board_edges import BoardEdge
from ..case_cover import CoveredBoard, spine_board
from ..finding import Advice, Amount, Finding, Severity, Spot
from ..laying import joins_onto, motions_of
from ..right_sizes import rounded_up
from ..words import part_words, shown

ROLE = "lining"
NEARLY = 0.1  #: mm; what differs by less is as intended
SURE = 2.0  #: mm by which a lining should lie on the ends of turn-ins at least (m)

NAME = "turn-in over lining"
WHY = (
    "The spine lining covers the ends of the turn-ins and the spine between them. It has to lie on them by"
    " more than the board's thickness, because that much of each turn-in goes over the edge."
)
WORST = Severity.ERROR
SOURCE = f"common practice: on the inside a turn-in is shorter by the board's thickness; {SURE:g} mm from memory"


class _Lining(NamedTuple):
    key: str
    panel: str
    box: Bounds  #: on the spine board
    board: CoveredBoard


def check(folded: FoldedBook) -> Iterator[Finding]:
    """Yield ends and sides of the lining that do not cover, or stick out."""
    board = spine_board(folded)
    for lining in _linings(folded, board) if board else ():
        for edge in lining.board.edges:
            if edge.name in ("head", "tail"):
                yield from _end(folded, lining, edge)
            elif (bare := -edge.beyond(_farthest(lining.box, edge))) > NEARLY:
                yield _bare_side(folded, lining, edge, bare)


def _linings(folded: FoldedBook, board: CoveredBoard) -> Iterator[_Lining]:
    for join in joins_onto(folded.book, board.key):
        entry = folded.book.part(join.part)
        if entry.role == ROLE and join.onto_side is Side.REVERSE:
            motion = motions_of(join, entry)[0]
            outline = motion.path(entry.part.panel(join.panel).outline)
            yield _Lining(entry.key, join.panel, bounds_of([outline]), board)


def _farthest(box: Bounds, edge: BoardEdge) -> tuple[float, float]:
    """Return the corner of a lining that lies farthest out at an edge."""
    corners = [(float(x), float(y)) for x in (box.left, box.right) for y in (box.bottom, box.top)]
    return max(corners, key=edge.beyond)


def _end(folded: FoldedBook, lining: _Lining, edge: BoardEdge) -> Iterator[Finding]:
    beyond = edge.beyond(_farthest(lining.box, edge))
    if beyond > NEARLY:
        yield _sticks_out(folded, lining, edge, beyond)
        return
    turned = min(lining.board.turned_at(edge), key=lambda t: t.depth, default=None)
    if turned is None:
        return
    intended = float(folded.book.reasons.length("lining_end").mm)
    flat, overlap = turned.depth + beyond, turned.inside + beyond
    if overlap <= NEARLY:
        yield _uncovered(folded, lining, edge, overlap, abs(flat - intended) <= NEARLY)
    elif intended - flat > NEARLY:
        yield _not_as_intended(folded, lining, edge, intended - flat)


def _uncovered(
    folded: FoldedBook, lining: _Lining, edge: BoardEdge, overlap: float, as_asked: bool
) -> Finding:
    book, thick = folded.book, lining.board.thick
    bare = max(-overlap, 0.0)
    wanted = rounded_up(book, thick + SURE)
    what = f"leaves {shown(book, bare)} of the spine bare" if bare > NEARLY else "just meets it"
    return Finding(
        Severity.WARNING,
        Spot(lining.key, lining.panel),
        f"{part_words(book, lining.key)} does not cover the end of the turn-in at the {edge.name}: it"
        f" {what}; {shown(book, thick)} of the turn-in go over the edge of the spine board",
        f"let the lining reach {shown(book, bare + SURE)} farther there",
        Amount(bare),
        (Advice("usual.lining_end", wanted),) if as_asked else (),
    )


def _not_as_intended(folded: FoldedBook, lining: _Lining, edge: BoardEdge, short: float) -> Finding:
    book = folded.book
    return Finding(
        Severity.WARNING,
        Spot(lining.key, lining.panel),
        f"{part_words(book, lining.key)} lies {shown(book, short)} less far on the turn-in at the"
        f" {edge.name} than it should",
        f"make the lining or the turn-in {shown(book, short)} longer there",
        Amount(short),
    )


def _sticks_out(folded: FoldedBook, lining: _Lining, edge: BoardEdge, beyond: float) -> Finding:
    book = folded.book
    return Finding(
        Severity.ERROR,
        Spot(lining.key, lining.panel),
        f"{part_words(book, lining.key)} sticks out {shown(book, beyond)} at the {edge.name} of the spine",
        f"make it {shown(book, beyond)} shorter there",
        Amount(beyond),
    )


def _bare_side(folded: FoldedBook, lining: _Lining, edge: BoardEdge, bare: float) -> Finding:
    book = folded.book
    return Finding(
        Severity.WARNING,
        Spot(lining.key, lining.panel),
        f"{part_words(book, lining.key)} leaves {shown(book, bare)} of the spine board bare along the"
        f" {edge.name}",
        f"make it {shown(book, bare)} wider there",
        Amount(bare),
    )
