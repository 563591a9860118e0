"""The boards are not set spine and two joints apart: the wrap does not agree with boards and joint."""

from __future__ import annotations

from collections.abc import Iterator

from ...folding.folded_book import FoldedBook
from ...paths import Bounds
from ..case_cover import CoveredBoard, Covering, cover_boards, spine_board
from ..finding import Amount, Finding, Severity, Spot
from ..words import shown

WRAP = "wrap"
NEARLY = 0.1  #: mm

NAME = "board distance"
WHY = (
    "The boards are set spine and two joints apart. Set nearer, the cover does not open or close; set wider, the"
    " pages sit loose in their case."
)
WORST = Severity.ERROR
SOURCE = "common practice, no source"


def check(folded: FoldedBook) -> Iterator[Finding]:
    """Yield joints that the wrap makes wider or narrower than they should be."""
    spine = spine_board(folded)
    if spine is None:
        return
    wanted = float(folded.book.reasons.length("joint").mm)
    for board in cover_boards(folded):
        for wrap, joint in _joints(board, spine):
            if joint < -NEARLY:
                yield _overlapping(folded, board, wrap, joint, wanted)
            elif abs(joint - wanted) > NEARLY:
                yield _finding(folded, board, wrap, joint, wanted)


def _joints(board: CoveredBoard, spine: CoveredBoard) -> Iterator[tuple[Covering, float]]:
    """Yield each wrap that holds a board and the spine board, and the room that it leaves."""
    for covering in board.coverings:
        for other in spine.coverings:
            if covering.key == other.key and covering.entry.role == WRAP:
                yield covering, _apart(_on_wrap(board, covering), _on_wrap(spine, other))


def _on_wrap(board: CoveredBoard, covering: Covering) -> Bounds:
    """Return where the board lies on its wrap, in the flat coordinates of the wrap."""
    places = [covering.unlaid(corner) for corner in board.corners]
    xs, ys = [x for x, _ in places], [y for _, y in places]
    return Bounds(min(xs), min(ys), max(xs), max(ys))


def _apart(a: Bounds, b: Bounds) -> float:
    return float(max(a.left - b.right, b.left - a.right))


def _finding(
    folded: FoldedBook, board: CoveredBoard, wrap: Covering, joint: float, wanted: float
) -> Finding:
    book, off = folded.book, abs(joint - wanted)
    more = "wider" if joint > wanted else "narrower"
    distance = float(book.reasons.length("board_distance").mm)
    return Finding(
        Severity.WARNING,
        Spot(wrap.key, wrap.panel),
        f"the joint beside the {board.entry.title} is {shown(book, joint)}, {shown(book, off)} {more} than"
        f" {shown(book, wanted)}",
        f"set the boards {shown(book, distance)} apart, or make the wrap there {shown(book, off)}"
        f" {'narrower' if joint > wanted else 'wider'}",
        Amount(off),
    )


def _overlapping(
    folded: FoldedBook, board: CoveredBoard, wrap: Covering, joint: float, wanted: float
) -> Finding:
    book = folded.book
    return Finding(
        Severity.ERROR,
        Spot(wrap.key, wrap.panel),
        f"the {board.entry.title} would lie {shown(book, -joint)} over the spine board",
        f"make the wrap {shown(book, wanted - joint)} wider there",
        Amount(wanted - joint),
    )
