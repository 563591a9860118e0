"""The tabs that hold the first and the last page to the boards: their way, and how long they are."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from ..bindings.bound import Join, Towards
from ..book.book import Book
from ..part import Line, Panel, Part
from ..paths import Bounds, bounds_of, flattened
from .assembly import Assembly
from .case_places import BACK, FRONT, spine_key
from .placing import landing_box

BOARD_OF = {Towards.FRONT: FRONT, Towards.BACK: BACK}


class CoverTab(NamedTuple):
    """A cover tab, mm.

    *way* is how far its fold is from the spine edge of the board with the cover open
    flat, along what lies between: the rest of the spine board, the joint, and two board
    thicknesses round the edges. *free* is how much of the tab its join leaves for that.
    """

    join: Join
    board: str
    towards: Towards
    length: float  #: from its fold to its far edge
    way: float
    free: float
    at_fold: float  #: its height where it is folded
    at_board: float  #: its height where the board begins
    off_board: float  #: how far its tape lies beyond the edges of the board
    spread: float  #: how far its far edge reaches beyond its fold at head or tail, 0 if it does not

    @property
    def reach(self) -> float:
        """How much of the tab lies on its board."""
        return self.length - self.way


def cover_tabs(book: Book, assembly: Assembly) -> Iterator[CoverTab]:
    """Yield the tabs that are joined to the insides of the boards."""
    if assembly.case is None:
        return
    for towards, board in BOARD_OF.items():
        for join in assembly.tree:
            if join.onto_part == board:
                tab = _cover_tab(book, assembly, join, towards)
                if tab is not None:
                    yield tab


def _cover_tab(book: Book, assembly: Assembly, join: Join, towards: Towards) -> CoverTab | None:
    part = book.part(join.part).part
    fold = _fold_of(part, join.panel)
    case = assembly.case
    if fold is None or case is None:
        return None
    line = bounds_of(fold.pieces)
    panel = part.panel(join.panel)
    box = panel.bounds()
    length = float(max(box.right - line.left, line.left - box.left))
    board = book.part(BOARD_OF[towards])
    spare = _spare(book, assembly, join.part, panel, towards)
    way = spare + case.joints[towards] + 2 * float(board.stock.caliper.mm)
    heights = _heights(panel, float(line.left), way, length)
    bottom, top = float(box.bottom), float(box.top)
    spread = max(float(line.bottom) - bottom, top - float(line.top), 0.0)
    zone = assembly.bench.zone_box(join)
    return CoverTab(
        join=join,
        board=board.key,
        towards=towards,
        length=length,
        way=way,
        free=_free(
            join, zone, board.part.panel(join.onto_panel).bounds(), float(line.left), towards
        ),
        at_fold=float(line.height),
        at_board=heights,
        off_board=_off_board(join, board.part.panel(join.onto_panel).bounds()),
        spread=spread,
    )


def _fold_of(part: Part, panel: str) -> Line | None:
    """Return the upright fold on which a tab hangs."""
    for line in part.folds:
        if panel in line.key.panels() and bounds_of(line.pieces).width == 0:
            return line
    return None


def _spare(book: Book, assembly: Assembly, part: str, tab: Panel, towards: Towards) -> float:
    """Return how far the fold of a tab is from the end of the spine board, along the spine.

    Where the channel beside it is not taped to the spine, what the book says of it.
    """
    spine = book.part(spine_key(book)).part.panels[0].bounds()
    for join in book.joins:
        if join.part == part and join.onto_part == spine_key(book) and _touch(book, join, tab):
            lying, zone = landing_box(join), assembly.bench.zone_box(join)
            channel = book.part(part).part.panel(join.panel).bounds()
            margin = float(channel.width - zone.width) / 2
            rest = (
                spine.right - lying.right if towards is Towards.FRONT else lying.left - spine.left
            )
            return float(rest) - margin
    return float(book.reasons.length("spine_spare").mm)


def _touch(book: Book, join: Join, tab: Panel) -> bool:
    """Return whether the panel of a join lies beside a tab on the flat part."""
    box, beside = tab.bounds(), book.part(join.part).part.panel(join.panel).bounds()
    return abs(float(box.right - beside.left)) < 1e-3 or abs(float(box.left - beside.right)) < 1e-3


def _heights(panel: Panel, fold: float, way: float, length: float) -> float:
    """Return how high a tab is at so far from its fold: where the board begins."""
    is_right = float(panel.bounds().right) - fold > length / 2
    at = fold + min(way, length) * (1 if is_right else -1)
    points = flattened(panel.outline, 0.01)
    crossings = [
        y0 + (y1 - y0) * (at - x0) / (x1 - x0)
        for (x0, y0), (x1, y1) in zip(points, [*points[1:], points[0]], strict=True)
        if x0 != x1 and min(x0, x1) - 1e-9 <= at <= max(x0, x1) + 1e-9
    ]
    return max(crossings) - min(crossings) if crossings else 0.0


def _free(join: Join, zone: Bounds, board: Bounds, fold: float, towards: Towards) -> float:
    """Return how much of the tab its join leaves between its fold and the edge of the board."""
    lying = landing_box(join)
    to_tape = max(float(zone.left) - fold, fold - float(zone.right))
    edge = lying.left - board.left if towards is Towards.FRONT else board.right - lying.right
    return to_tape - float(edge)


def _off_board(join: Join, board: Bounds) -> float:
    lying = landing_box(join)
    return float(
        max(
            board.left - lying.left,
            lying.right - board.right,
            board.bottom - lying.bottom,
            lying.top - board.top,
            0,
        )
    )
