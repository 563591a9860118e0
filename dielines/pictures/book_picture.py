"""Pictures of a bound book: closed, open, or pulled apart."""

from __future__ import annotations

import re
from collections.abc import Mapping
from enum import Enum

from ..book.book import Book, BookPart
from ..book.spans import measured, shown
from ..errors import UsageError
from ..folding.assembly import Assembly
from ..folding.folded_book import FoldedBook
from ..folding.hosts import hosts_of
from ..folding.opening import opened
from ..models.book_places import book_facets
from ..models.facets import Facet
from .bodies import body
from .book_layers import COVERING_ROLES, picture_shifts, thicknesses
from .camera import Camera, Viewpoint
from .cover_tabs import with_tabs_on_covers
from .covering import Shape
from .exploding import is_of_spine, pulled_apart
from .painting import Fill, Painting, painting
from .svg_page import BOOK_PENS, SMALL, TEXT, THIN, Page, Placement, name_panels, paint, text_width
from .tints import BACKING, BOARD, COVERING, INK, INSERT, MAT, PAGES, PAPER, Tint

ROOM = (170.0, 150.0)  #: mm on the page
MARGIN = 8.0
GAP = 0.6  #: mm, between layers
THROUGH = 0.5  #: mm in depth that cloth and board may reach through each other unseen

_TINTS = {
    "boards": BOARD,
    "wrap": COVERING,
    "lining": COVERING,
    "edges": COVERING,
    "reinforcement": BACKING,
    "mats": MAT,
    "inserts": INSERT,
}
_PAGE = re.compile(r"page-(\d+)")


WIDE = 170.0  #: degrees; how far a book is open, not quite flat


class View(Enum):
    """How a book lies there."""

    CLOSED = "closed"
    OPEN = "open"
    EXPLODED = "exploded"


_FROM = {
    View.CLOSED: Viewpoint(26, 34),
    View.OPEN: Viewpoint(8, 52),
    View.EXPLODED: Viewpoint(28, 24),
}


def book_picture(folded: FoldedBook, view: View, opening: int = 0) -> str:
    """Return the SVG of a book; an open one lies open between page *opening* and the next.

    0 opens the front cover, the number of pages the back cover. Raises UsageError
    for an opening that there is not.
    """
    pages = len(folded.book.request.pages)
    if view is View.OPEN and not 0 <= opening <= pages:
        raise UsageError(f"a book of {pages} pages has the openings 0 to {pages}, not {opening}")
    facets = _facets(folded, view, opening)
    if view is View.EXPLODED:
        facets = pulled_apart(folded.book, facets, attached(folded))
    tints = {entry.key: tint_of(entry) for entry in folded.book.parts}
    painted = painting(
        [facet for found in facets.values() for facet in found],
        Camera(_FROM[view]),
        lambda facet: tints[facet.owner],
        pierced=THROUGH,
    )
    return _page(folded, painted, view, opening).text()


def attached(folded: FoldedBook) -> dict[str, str]:
    """Return the part that each reinforcement and mat is stuck on, by key."""
    hosts = hosts_of(folded.book, folded.parts)
    return {key: host.part for key, host in hosts.items()}


def _assembly(folded: FoldedBook, view: View, opening: int) -> Assembly:
    if view is View.OPEN:
        book, parts, closed = folded.book, folded.parts, folded.assembly
        return with_tabs_on_covers(folded, opened(book, parts, closed, opening, WIDE))
    return folded.assembly


def _facets(folded: FoldedBook, view: View, opening: int) -> dict[str, list[Facet]]:
    """Return what each part is made of, boards as bodies."""
    bodies = thicknesses(folded.book)
    found = book_facets(folded, _assembly(folded, view, opening), picture_shifts(folded, GAP))
    for key in _behind_cloth(folded):
        found.pop(key, None)
    for key, thickness in bodies.items():
        if key in found:
            found[key] = [piece for facet in found[key] for piece in body(facet, thickness)]
    return found


def _behind_cloth(folded: FoldedBook) -> list[str]:
    """Return the keys of what backs the covering: it lies between cloth and board, unseen."""
    book = folded.book
    return [key for key, host in attached(folded).items() if book.part(host).role in COVERING_ROLES]


def tint_of(entry: BookPart) -> Tint:
    """Return the tint of a part: one pair for each page, one for each other role."""
    page = _PAGE.match(entry.key)
    if entry.role == "pages" and page:
        return PAGES[(int(page[1]) - 1) % len(PAGES)]
    return _TINTS.get(entry.role, PAPER)


def _page(folded: FoldedBook, painted: Painting, view: View, opening: int) -> Page:
    left, bottom, right, top = painted.bounds
    across, up = right - left, top - bottom
    scale = min(ROOM[0] / across, ROOM[1] / up)
    head = 3 * TEXT + 4
    listed = LABELS if view is View.EXPLODED else 0.0
    title = f"{folded.book.title}, {view_words(folded.book, view, opening)}"
    words = (title, _sizes(folded))
    written = max(text_width(words[0], TEXT), text_width(words[1], SMALL))
    width = max(across * scale + listed, written) + 2 * MARGIN
    height = up * scale + 2 * MARGIN + head
    page = Page(width, height, title, _description(folded.book, painted))
    placement = Placement(painted, scale, MARGIN, MARGIN)
    paint(page, painted, placement, BOOK_PENS)
    if view is View.EXPLODED:
        _names_beside(page, folded, painted, placement, width - MARGIN - listed + 6)
    else:
        _names_on(page, folded, painted, placement)
    texts = page.group("words")
    page.words(texts, words[0], MARGIN, height - MARGIN - TEXT * 0.7)
    page.words(texts, words[1], MARGIN, height - MARGIN - TEXT * 2.2, SMALL)
    return page


LABELS = 62.0  #: mm beside an exploded book for the names of its parts
LINE = 4.2  #: mm from name to name


def view_words(book: Book, view: View, opening: int) -> str:
    """Return how the book lies there: "open between page 2 and page 3"."""
    if view is not View.OPEN:
        return {View.CLOSED: "closed", View.EXPLODED: "its parts pulled apart"}[view]
    pages = len(book.request.pages)
    if opening == 0:
        return "open at page 1"
    if opening == pages:
        return "open at its back cover"
    return f"open between page {opening} and page {opening + 1}"


def _sizes(folded: FoldedBook) -> str:
    """Return how thick the book is, which a picture of boards does not tell."""
    thick, unit = folded.thickness, folded.book.units
    spine, block, fore_edge = (
        f"{shown(measured(length), unit)} {unit}"
        for length in (thick.spine, thick.at_binding.upright, thick.at_fore_edge.pressed)
    )
    return f"pages {block} thick at the spine, which has room for {spine}; pressed {fore_edge} at the fore-edge"


def _description(book: Book, painted: Painting) -> str:
    seen = dict.fromkeys(book.part(fill.facet.owner).title for fill in painted.fills)
    return f"To be seen: {'; '.join(seen)}."


def short_title(entry: BookPart) -> str:
    """Return what a part is called where there is little room: "page 2"."""
    return entry.title.split(":")[0]


def _largest(painted: Painting, hosts: Mapping[str, str]) -> dict[str, Fill]:
    """Return of each part the piece of which most can be seen, or of what is stuck on it."""
    found: dict[str, Fill] = {}
    for fill in painted.fills:
        key = hosts.get(fill.facet.owner, fill.facet.owner)
        best = found.get(key)
        if best is None or fill.region.area > best.region.area + 1e-6:
            found[key] = fill
    return found


def _names_on(page: Page, folded: FoldedBook, painted: Painting, placement: Placement) -> None:
    """Write the name of each part where most of it can be seen, if it fits."""
    for key, fill in _largest(painted, attached(folded)).items():
        entry = folded.book.part(key)
        if entry.role in _NAMED:
            name_panels(page, [fill], placement, {fill.facet.panel: short_title(entry)})


_NAMED = ("pages", "boards")


def _names_beside(
    page: Page, folded: FoldedBook, painted: Painting, placement: Placement, x: float
) -> None:
    """Write the names of the parts in a column, each with a line to its part; of the spine below them."""
    book, stuck = folded.book, attached(folded)
    lowest = _lowest(painted, stuck)
    group = page.group("names")
    ends: list[tuple[float, float, str]] = []
    beside = 0
    for key, fill in _largest(painted, {}).items():
        title = book.part(key).title
        if key in stuck:
            continue
        region = placement.shape(fill.region)
        if is_of_spine(book, key):
            x_of, y_of = placement.line([lowest[key]])[0]
            page.words(group, title, x_of, y_of - LINE * (1 + beside), SMALL, "middle")
            beside += 1
        else:
            at_x, at_y = _at_right(region)
            ends.append((at_y, at_x, title))
    ends.sort(reverse=True)
    top = page.height - MARGIN - 3 * TEXT - 4
    heights = _apart([y for y, _, _ in ends], LINE, MARGIN, top)
    for (y, from_x, title), at in zip(ends, heights, strict=True):
        page.line(group, [((from_x, y), (x - 4, at), (x - 1, at))], THIN)
        page.disc(group, (from_x, y), 0.5, INK)
        page.words(group, title, x, at - SMALL * 0.35, SMALL)


def _lowest(painted: Painting, hosts: Mapping[str, str]) -> dict[str, tuple[float, float]]:
    """Return the middle of the lower end of each part, with all that is stuck on it."""
    import shapely

    regions: dict[str, list[Shape]] = {}
    for fill in painted.fills:
        regions.setdefault(hosts.get(fill.facet.owner, fill.facet.owner), []).append(fill.region)
    boxes = {key: shapely.total_bounds(found) for key, found in regions.items()}
    return {key: (float(box[0] + box[2]) / 2, float(box[1])) for key, box in boxes.items()}


def _at_right(region: Shape) -> tuple[float, float]:
    """Return a place in *region* near its right end."""
    import shapely

    left, bottom, right, top = region.bounds
    x = right - min(3.0, (right - left) / 4)
    upright = shapely.LineString([(x, bottom), (x, top)]).intersection(region)
    if upright.is_empty:  # it falls into pieces, with a gap just here
        return _at_right(max(shapely.get_parts(region), key=lambda piece: piece.area))
    middle = max(shapely.get_parts(upright), key=lambda piece: piece.length).centroid
    return middle.x, middle.y


def _apart(heights: list[float], least: float, low: float, high: float) -> list[float]:
    """Return *heights* (from above downwards) moved as little as is simple to be *least* apart."""
    found: list[float] = []
    for height in heights:
        found.append(min(height, found[-1] - least if found else high))
    lack = low - found[-1] if found else 0.0
    for i in range(len(found) - 1, -1, -1):
        if lack > 0 and (i == len(found) - 1 or found[i] < found[i + 1] + least):
            found[i] = low if i == len(found) - 1 else found[i + 1] + least
    return found
