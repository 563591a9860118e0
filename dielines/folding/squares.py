"""How far the boards stand out beyond the pages on each side: the squares of the book."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple

from ..book.book import Book
from ..paths import flattened
from ..rigid import Pose
from .assembly import Assembly
from .case_places import BACK, FRONT, only
from .folded_part import FoldedPart
from .opening import motions, slides
from .web import ends_of, hinge_on, page_keys, way, web_of

SIDES = ("head", "tail", "fore-edge")
CHORD = 0.01  #: mm; arcs are chords no farther off
GRAFTED = "binding."  #: in front of the name of a panel that a binding added
FLAT = 180.0  #: degrees of a book that lies open flat


class Extent(NamedTuple):
    """How far something reaches in the frame of the book: to the fore-edge, tail and head, mm."""

    right: float
    bottom: float
    top: float


class Square(NamedTuple):
    """What a board has beyond a page on one side; below 0 where the page sticks out.

    *opening* is where the book is open (flat); None where it is closed.
    """

    board: str
    page: str
    panel: str  #: the panel of the page, or of what is taped onto it, that reaches farthest
    part: str  #: the part that this panel is of
    side: str
    size: float
    opening: int | None = None


def extent_of(pose: Pose, points: Sequence[tuple[float, float]]) -> Extent:
    """Return how far a panel reaches."""
    (a, b, _), (c, d, _), _ = (tuple(map(float, row)) for row in pose.rotation)
    x, y, _ = map(float, pose.translation)
    xs = [a * u + b * v + x for u, v in points]
    ys = [c * u + d * v + y for u, v in points]
    return Extent(max(xs), min(ys), max(ys))


def board_extents(assembly: Assembly) -> dict[str, Extent]:
    """Return how far the covers reach in the closed book, by the key of the board."""
    found = {}
    for key in (FRONT, BACK):
        if key in assembly.places:
            outline = next(iter(assembly.bench.parts[key].outlines.values()))
            found[key] = extent_of(only(assembly.places[key]), flattened(outline, CHORD))
    return found


class Reach(NamedTuple):
    """How far a panel of a leaf reaches."""

    part: str
    panel: str
    extent: Extent


def reaches(book: Book, assembly: Assembly) -> dict[str, list[Reach]]:
    """Return how far the panels of each leaf reach, by the key of its page."""
    leaves: dict[str, list[Reach]] = {key: [] for key in page_keys(book)}
    for entry in book.parts:
        page = _page_of(entry.key, leaves)
        if page is None or entry.part.covers or entry.key not in assembly.places:
            continue
        outlines = assembly.bench.parts[entry.key].outlines
        for name, pose in assembly.places[entry.key].items():
            extent = extent_of(pose, flattened(outlines[name], CHORD))
            leaves[page].append(Reach(entry.key, name, extent))
    return leaves


def _page_of(key: str, leaves: Mapping[str, object]) -> str | None:
    """Return the page that a part belongs to: ``page-9`` of ``page-9-pocket``."""
    page = "-".join(key.split("-")[:2])
    return page if page in leaves else None


def is_grafted(panel: str) -> bool:
    """Return whether a binding added the panel to its page."""
    return panel.startswith(GRAFTED)


def closed_squares(book: Book, assembly: Assembly) -> Iterator[Square]:
    """Yield the squares of each page in the closed book, at each board and on each side."""
    boards = board_extents(assembly)
    for page, found in reaches(book, assembly).items():
        for board, extent in boards.items():
            for side in SIDES:
                if found:
                    yield _square(board, extent, page, found, side)


def _square(board: str, extent: Extent, page: str, found: Sequence[Reach], side: str) -> Square:
    farthest = min(found, key=lambda reach: round(beyond(extent, reach.extent, side), 6))
    size = beyond(extent, farthest.extent, side)
    return Square(board, page, farthest.panel, farthest.part, side, size)


def beyond(board: Extent, page: Extent, side: str) -> float:
    """Return how far a board stands out beyond a page on a side; below 0 where the page does."""
    if side == "head":
        return board.top - page.top
    return page.bottom - board.bottom if side == "tail" else board.right - page.right


def open_squares(
    book: Book, parts: Mapping[str, FoldedPart], assembly: Assembly
) -> Iterator[Square]:
    """Yield the squares at the fore-edge with the book open flat between any two pages.

    Open, the covers have slid along their pages; each page then lies over the cover of
    its own half. Head and tail stay as they are in the closed book.
    """
    if assembly.case is None or not {FRONT, BACK} <= set(assembly.places):
        return
    web = web_of(book, parts, assembly.tree)
    roots = {key: folded.root for key, folded in parts.items()}
    pages, closed = page_keys(book), _at_fore_edge(book, assembly)
    for opening in range(1, len(pages)):
        ends = ends_of(book, roots, opening, (FRONT, roots[FRONT]), (BACK, roots[BACK]))
        hinge = hinge_on(way(web, *ends))
        if hinge is None:
            continue
        slid = slides(assembly, assembly.case, motions(assembly, hinge, FLAT)[0])
        for number, page in enumerate(pages):
            board = FRONT if number < opening else BACK
            if (page, board) in closed:
                square = closed[page, board]
                yield square._replace(size=square.size + slid[board], opening=opening)


def _at_fore_edge(book: Book, assembly: Assembly) -> dict[tuple[str, str], Square]:
    return {
        (square.page, square.board): square
        for square in closed_squares(book, assembly)
        if square.side == "fore-edge"
    }
