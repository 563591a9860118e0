"""The end of a cover tab falls on the end of what lies beneath it: a ridge that shows."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from ...bindings.bound import Join
from ...folding.case_places import COVERING
from ...folding.folded_book import FoldedBook
from ...lengths import Length
from ...part import Panel, Side, exact_length
from ...paths import Bounds, bounds_of
from ..board_edges import Place
from ..case_cover import CoveredBoard, cover_boards
from ..finding import Advice, Amount, Finding, Severity, Spot
from ..laying import zone_named
from ..right_sizes import rounded_up
from ..words import panel_words, part_words, shown

CLEAR = 2.0  #: mm that the end of a tab keeps from a ridge (m)
LEAST_RUN = 3.0  #: mm of both that have to run side by side
SLOPE = 0.25  #: how much a ridge may lean and still run along the end of a tab
NEARLY = 0.01  #: mm
SETTING = "cover_tab"

NAME = "ridge under tab"
WHY = (
    "Where a cover tab ends on the very edge of the turn-in or the strip beneath, both steps add up to a ridge"
    " that shows through and wears. The tab ends well before it or well behind it."
)
WORST = Severity.WARNING
SOURCE = f"common practice, no source; {CLEAR:g} mm from memory"


@dataclass(frozen=True)
class _TabEnd:
    """The free end of a tab on the inside of a board: across at *x*, from *low* to *high*."""

    join: Join
    x: float
    low: float
    high: float
    is_right: bool  #: whether the tab lies left of it


def check(folded: FoldedBook) -> Iterator[Finding]:
    """Yield tabs that end on the edge of what is turned in beneath them."""
    for board in cover_boards(folded):
        for end in _tab_ends(folded, board):
            near = [ridge for ridge in _ridges(board, end) if abs(ridge - end.x) < CLEAR]
            if near:
                ridge = min(near, key=lambda x: abs(x - end.x))
                yield _finding(folded, board, end, ridge)


def _tab_ends(folded: FoldedBook, board: CoveredBoard) -> Iterator[_TabEnd]:
    for join in folded.book.joins:
        entry = folded.book.part(join.part)
        is_inside = join.onto_part == board.key and join.onto_side is Side.REVERSE
        if is_inside and entry.role not in COVERING:
            panel = entry.part.panel(join.panel)
            zone = bounds_of([zone_named(entry, join.zone).path])
            yield _end_of(join, panel, zone, board)


def _end_of(join: Join, panel: Panel, zone: Bounds, board: CoveredBoard) -> _TabEnd:
    """Return where a tab ends that comes onto a board from the spine.

    Its free end is the one to which its tape reaches nearer; tape and tab lie level.
    """
    box = panel.bounds()
    margin, free = min((zone.left - box.left, box.left), (box.right - zone.right, box.right))
    ups = [float(y) for x, y in panel.outline.points if abs(float(x - free)) < NEARLY]
    rise = float(join.offset.y) - float(zone.bottom)
    fore_edge = next((e for e in board.edges if e.name == "fore-edge"), board.edges[0])
    is_right = fore_edge.out[0] > 0
    tape = join.offset.x + join.width + margin if is_right else join.offset.x - margin
    return _TabEnd(join, float(tape), min(ups) + rise, max(ups) + rise, is_right)


def _ridges(board: CoveredBoard, end: _TabEnd) -> Iterator[float]:
    """Yield where, beside the end of a tab, what is turned in ends along it."""
    from shapely import get_parts

    for turned in board.turned_in:
        for shape in get_parts(turned.inner):
            ring = list(shape.exterior.coords) if shape.geom_type == "Polygon" else []
            for start, after in pairwise(ring):
                yield from _beside(start, after, end, board)


def _beside(start: Place, after: Place, end: _TabEnd, board: CoveredBoard) -> Iterator[float]:
    (x0, y0), (x1, y1) = sorted((start, after), key=lambda place: place[1])
    low, high = max(y0, end.low), min(y1, end.high)
    is_along = abs(x1 - x0) <= SLOPE * (y1 - y0)
    if not is_along or high - low < LEAST_RUN or _is_at_edge(x0, x1, board):
        return
    slope = (x1 - x0) / (y1 - y0)
    places = [x0 + (y - y0) * slope for y in (low, high)]
    yield min(max(end.x, min(places)), max(places))


def _is_at_edge(x0: float, x1: float, board: CoveredBoard) -> bool:
    xs = [x for x, _ in board.corners]
    return any(abs(x - side) < CLEAR for x in (x0, x1) for side in (min(xs), max(xs)))


def _finding(folded: FoldedBook, board: CoveredBoard, end: _TabEnd, ridge: float) -> Finding:
    book, join = folded.book, end.join
    past = (end.x - ridge) * (1 if end.is_right else -1)
    near = shown(book, abs(past)) if abs(past) > 0.01 else ""
    where = f"{near} {'past' if past > 0 else 'before'}" if near else "on"
    longer = past >= 0
    more = CLEAR - abs(past)
    return Finding(
        Severity.WARNING,
        Spot(join.part, join.panel),
        f"the {panel_words(book, join.part, join.panel)} of {part_words(book, join.part)} ends {where} the end"
        f" of what is turned in on the {board.entry.title}",
        f"make it {shown(book, more)} {'longer' if longer else 'shorter'}",
        Amount(more),
        _advice(folded, more if longer else -more),
    )


def _advice(folded: FoldedBook, by: float) -> tuple[Advice, ...]:
    """Return the length of the cover tab that keeps clear, in a step of the book's units."""
    now = folded.book.reasons.length(SETTING)
    step = rounded_up(folded.book, abs(by))
    wanted: Length = now + step if by > 0 else now - step
    return (Advice(f"usual.{SETTING}", exact_length(wanted.mm)),)
