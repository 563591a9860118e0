"""What the checks found, as a picture: each finding has a number on its part, and beside it its words."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from textwrap import wrap
from typing import Any

from ..book.book import BookPart
from ..checks.checking import Found, Report
from ..checks.finding import Severity, Spot
from ..folding.folded_book import FoldedBook
from ..models.facets import facets_of, placed
from ..models.patches import patches_of
from ..part import Part
from ..paths import flattened
from ..rigid import AT_REST
from .camera import Camera
from .painting import Painting, painting
from .svg_page import (
    FOLD,
    LETTER,
    SMALL,
    TEXT,
    THIN,
    Page,
    Placement,
    name_panels,
    paint,
    text_width,
)
from .tints import ACCENT, INK, tint_of_stock
from .views import FROM_ABOVE
from .words import panel_name

MARGIN, GUTTER = 8.0, 12.0  #: mm
ROOM = (105.0, 66.0)  #: mm on the page for a part
COLUMN = 96.0  #: mm, width of the list
LINE = 4.0  #: mm from line to line
MOST = 80  #: findings that are shown; of more, the rest is counted
RADIUS = 2.6  #: mm, of a mark


@dataclass(frozen=True)
class _Block:
    """The findings of one part with its drawing, or those of the book as a whole."""

    title: str
    part: Part | None
    found: tuple[tuple[int, Found], ...]
    lines: tuple[tuple[str, ...], ...]  #: the words of each finding
    painted: Painting | None
    scale: float

    @property
    def drawn_height(self) -> float:
        """How high the drawing is on the page."""
        if self.painted is None:
            return 0.0
        _, bottom, _, top = self.painted.bounds
        return (top - bottom) * self.scale

    @property
    def height(self) -> float:
        """How high the block is on the page."""
        listed = sum(len(lines) * LINE + LINE / 2 for lines in self.lines)
        return max(self.drawn_height, listed) + 2 * LINE


def findings_picture(folded: FoldedBook, report: Report) -> str:
    """Return the SVG of a report: parts with numbered marks, and the list of what they mean.

    Errors are discs, warnings squares, remarks rings. Findings of the book as a whole come first.
    """
    blocks = list(_blocks(folded, report.found[:MOST]))
    title = f"{folded.book.title}: what the checks found"
    width = 2 * MARGIN + ROOM[0] + GUTTER + COLUMN
    height = 2 * MARGIN + 3 * LINE + sum(block.height + LINE for block in blocks)
    page = Page(width, height, title, _counted(report))
    words = page.group("words")
    y = height - MARGIN - TEXT
    page.words(words, title, MARGIN, y)
    page.words(words, _counted(report), MARGIN, y - LINE * 1.3, SMALL)
    y -= 3 * LINE
    for block in blocks:
        _draw(page, block, y)
        y -= block.height + LINE
    return page.text()


def _counted(report: Report) -> str:
    counts = [(len(report.of(severity)), severity.value) for severity in Severity]
    told = [f"{count} {word}{'s' if count > 1 else ''}" for count, word in counts if count]
    words = ", ".join(told) if told else "Nothing: every rule holds"
    more = len(report.found) - MOST
    return f"{words}; {more} more than are shown here." if more > 0 else f"{words}."


def _blocks(folded: FoldedBook, found: Sequence[Found]) -> Iterator[_Block]:
    """Yield the findings of each part together, in the order in which they are numbered."""
    groups: dict[str, list[Found]] = {"": []}
    keys = {entry.key for entry in folded.book.parts}
    for one in found:
        key = one.finding.spot.part
        groups.setdefault(key if key in keys else "", []).append(one)
    number = 1
    for key, group in groups.items():
        numbered = tuple(enumerate(group, number))
        number += len(group)
        if key:
            yield _of_part(folded.book.part(key), numbered)
        elif group:
            lines = tuple(tuple(_words(one, COLUMN + ROOM[0])) for one in group)
            yield _Block("The book as a whole", None, numbered, lines, None, 1.0)


def _of_part(entry: BookPart, numbered: tuple[tuple[int, Found], ...]) -> _Block:
    painted = _flat(entry.part)
    left, bottom, right, top = painted.bounds
    scale = min(ROOM[0] / (right - left), ROOM[1] / (top - bottom), 1.0)
    lines = tuple(tuple(_words(one, COLUMN)) for _, one in numbered)
    return _Block(f"{entry.letter}: {entry.title}", entry.part, numbered, lines, painted, scale)


def _words(one: Found, width: float) -> Iterator[str]:
    finding = one.finding
    yield f"{finding.severity.value}: {one.rule}"
    letters = int(width / (SMALL * LETTER))
    for sentence in filter(None, (finding.message, finding.remedy)):
        yield from wrap(f"{sentence[0].upper()}{sentence[1:]}.", letters)


def _flat(part: Part) -> Painting:
    patches = patches_of(part)
    places = dict.fromkeys(patches.panels, placed(AT_REST))
    tint = tint_of_stock(part.stock)
    return painting(facets_of("", patches, places), Camera(FROM_ABOVE), lambda _: tint)


def _draw(page: Page, block: _Block, top: float) -> None:
    group = page.group(f"findings-{block.found[0][0]}")
    page.words(group, block.title, MARGIN, top - LINE)
    base = top - 2 * LINE
    if block.painted is not None and block.part is not None:
        placement = Placement(block.painted, block.scale, MARGIN, base - block.drawn_height)
        paint(page, block.painted, placement)
        _zones(page, block.part, placement)
        names = {panel.name: panel_name(block.part, panel.name) for panel in block.part.panels}
        marks = list(_marked(block, placement))
        around = [((x - RADIUS, y), (x + RADIUS, y)) for _, _, (x, y), _ in marks]
        name_panels(page, block.painted.fills, placement, names, around)
        for _, _, at, spot in marks:
            _leader(page, at, spot)
        for number, severity, at, _ in marks:
            _mark(page, number, severity, at)
    _list(page, group, block, base)


def _list(page: Page, group: Any, block: _Block, base: float) -> None:
    y = base - SMALL
    x = MARGIN + (ROOM[0] + GUTTER if block.painted is not None else 2 * RADIUS + 2)
    for (number, one), lines in zip(block.found, block.lines, strict=True):
        _mark(page, number, one.finding.severity, (x - 4, y + SMALL * 0.35))
        page.words(group, lines[0], x, y, SMALL, weight="bold")
        for line in lines[1:]:
            y -= LINE
            page.words(group, line, x, y, SMALL)
        y -= LINE * 1.5


def _zones(page: Page, part: Part, placement: Placement) -> None:
    """Draw the borders of tape zones, which many findings are about."""
    group = page.group(f"tape-{part.name}")
    for zone in part.zones:
        corners = flattened(zone.path, 0.05)
        page.line(group, [placement.line([*corners, corners[0]])], THIN, "0.5 0.5")


Place = tuple[float, float]


def _marked(block: _Block, placement: Placement) -> Iterator[tuple[int, Severity, Place, Place]]:
    """Yield number, severity, place of the mark and of the spot; marks in one place step aside."""
    taken: list[Place] = []
    for number, one in block.found:
        spot = placement.line([_spot(block.part, one.finding.spot)])[0]
        at = spot
        while any(abs(at[0] - x) < 2 * RADIUS and abs(at[1] - y) < 2 * RADIUS for x, y in taken):
            at = (at[0] + 2 * RADIUS + 0.4, at[1])
        taken.append(at)
        yield number, one.finding.severity, at, spot


def _spot(part: Part | None, spot: Spot) -> Place:
    """Return the place on the flat part: the point, else the middle of the panel or the part."""
    assert part is not None
    if spot.point is not None:
        return float(spot.point.x), float(spot.point.y)
    from shapely import Polygon

    outlines = {panel.name: panel.outline for panel in part.panels}
    middle = Polygon(flattened(outlines.get(spot.panel, part.outline[0]))).representative_point()
    return middle.x, middle.y


def _leader(page: Page, at: Place, spot: Place) -> None:
    if at != spot:
        page.line(page.group("leaders"), [(spot, at)], FOLD, colour=ACCENT)


def _mark(page: Page, number: int, severity: Severity, at: Place) -> None:
    x, y = at
    group = page.group("marks")
    if severity is Severity.ERROR:
        page.disc(group, at, RADIUS, ACCENT)
    elif severity is Severity.WARNING:
        page.square(group, at, RADIUS * 0.92, ACCENT)
    else:
        page.disc(group, at, RADIUS, "#ffffff")
    colour = "#ffffff" if severity is Severity.ERROR else INK
    size = SMALL if number < 10 else SMALL * 0.85
    width = text_width(str(number), size)
    assert width < 2 * RADIUS
    page.words(group, str(number), x, y - size * 0.36, size, "middle", colour)
