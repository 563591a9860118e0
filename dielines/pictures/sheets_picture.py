"""All different sheets of a book in one picture: what lies where, and how often each is cut."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Any

from ..lengths import Unit
from ..paths import Path, flattened
from ..sheets.layout import BookLayout, PlacedPart, SheetLayout, StockLayout
from ..sheets.rooms import Room
from ..sheets.sheet_drawing import quarter_turn
from ..sheets.sheets_text import WORDS, sheet_words
from ..workshop.stock import Grain
from .svg_page import FOLD, SMALL, TEXT, Page, text_width
from .tints import BACKING, BOARD, COVERING, INSERT, MAT, PAPER, Tint

WIDTH = 280.0  #: of the page, mm; it prints on A4 or letter lying wide
MARGIN, GAP = 8.0, 7.0  #: mm, around the page and between sheets
LARGEST = 80.0  #: mm, the longer side of the largest sheet in the picture
HEADING = 3.8  #: font size of the name of a stock, mm
HEAD, TITLE = 8.5, 6.0  #: mm, above a sheet, above the sheets of a stock
NOTE = 6.0  #: mm, below all sheets, for each line that tells what the signs mean
REACH = "2.4 1.2"  #: dashes of what the machine reaches
SAGITTA = 0.1  #: mm
BARE = "#ffffff"
_TINTS: dict[str, Tint] = {
    "boards": BOARD,
    "reinforcement": BACKING,
    "mats": MAT,
    "inserts": INSERT,
    "wrap": COVERING,
    "lining": COVERING,
    "edges": COVERING,
}


@dataclass(frozen=True)
class _Cell:
    """A sheet in the picture; *heading* is that of its stock, over the first of its sheets."""

    sheet: SheetLayout
    heading: str
    size: str  #: of the sheet, in words
    scale: float
    left: float = MARGIN

    @property
    def name(self) -> str:
        """Its number, and how often it is cut."""
        times = self.sheet.times
        return f"sheet {self.sheet.number}{f', {times} times' if times > 1 else ''}"

    @property
    def right(self) -> float:
        """Where its room ends, that of its words too."""
        wide = float(self.sheet.room.sheet.size.across.mm) * self.scale
        return self.left + max(
            wide, *(text_width(words, SMALL) for words in (self.name, self.size))
        )

    @property
    def heading_right(self) -> float:
        """Where its heading ends."""
        return self.left + text_width(self.heading, HEADING)

    @property
    def height(self) -> float:
        """The room up that it takes, without its heading."""
        return float(self.sheet.room.sheet.size.up.mm) * self.scale + HEAD


def sheets_picture(title: str, layout: BookLayout, units: Unit) -> str:
    """Return an SVG with every different sheet of *layout*; raises ValueError where there is none."""
    sides = [float(side.mm) for _, sheet in layout.sheets() for side in sheet.room.sheet.size]
    if not sides:
        raise ValueError("there is no sheet to draw")
    scale = LARGEST / max(sides)
    rows = _rows([cell for stock in layout.stocks for cell in _cells(stock, scale, units)])
    notes = _notes([sheet.room for _, sheet in layout.sheets()])
    height = sum(_height(row) for row in rows) + 2 * MARGIN + NOTE * len(notes)
    words = "Every different sheet with the letters of its parts."
    page = Page(WIDTH, height, f"{title}: sheets", words)
    top = height - MARGIN
    for row in rows:
        _draw_row(page, row, top)
        top -= _height(row)
    for number, note in enumerate(reversed(notes)):
        page.words(page.group("note"), note, MARGIN, MARGIN + number * NOTE, SMALL)
    return page.text()


def _notes(rooms: Sequence[Room]) -> list[str]:
    """Return what the signs in the picture mean."""
    notes = []
    if any(room.sheet.grain is not Grain.NONE for room in rooms):
        notes.append("The arrow beside a sheet lies along its grain.")
    if any(room.is_only_a_part for room in rooms):
        notes.append("Long dashes: the machine reaches no farther.")
    return notes


def _cells(stock: StockLayout, scale: float, units: Unit) -> Iterator[_Cell]:
    heading = f"{stock.stock.name}, {WORDS[stock.terms.by]}"
    for sheet in stock.sheets:
        yield _Cell(sheet, heading, sheet_words(sheet.room.sheet.size, units), scale)
        heading = ""


def _rows(cells: Sequence[_Cell]) -> list[list[_Cell]]:
    """Return cells in the order in which one reads, each beside the one before it."""
    rows: list[list[_Cell]] = [[]]
    for cell in cells:
        beside = replace(cell, left=_beside(rows[-1], cell))
        if rows[-1] and max(beside.right, beside.heading_right) > WIDTH - MARGIN:
            rows.append([])
            beside = cell
        rows[-1].append(beside)
    return rows


def _beside(row: Sequence[_Cell], cell: _Cell) -> float:
    """Return where the next cell of a row begins; headings keep clear of each other."""
    if not row:
        return MARGIN
    ends = [row[-1].right]
    if cell.heading:
        ends += [one.heading_right for one in row]
    return max(ends) + GAP


def _height(row: Sequence[_Cell]) -> float:
    title = TITLE if any(cell.heading for cell in row) else 0
    return max(cell.height for cell in row) + title + GAP


def _draw_row(page: Page, row: Sequence[_Cell], top: float) -> None:
    below = TITLE if any(cell.heading for cell in row) else 0
    for cell in row:
        if cell.heading:
            page.words(page.group("stock"), cell.heading, cell.left, top - TEXT, HEADING)
        _draw_sheet(page, cell, top - below - cell.height)


def _draw_sheet(page: Page, cell: _Cell, foot: float) -> None:
    sheet, scale, left = cell.sheet, cell.scale, cell.left
    size = sheet.room.sheet.size
    wide, high = float(size.across.mm) * scale, float(size.up.mm) * scale
    group = page.group(f"sheet-{sheet.number}")
    page.words(group, cell.name, left, foot + high + 1.4 + 3.5, SMALL)
    page.words(group, cell.size, left, foot + high + 1.4, SMALL)
    page.line(group, [_frame(left, foot, left + wide, foot + high)], FOLD)
    if sheet.room.is_only_a_part:
        page.line(group, [_reach(sheet.room, scale, left, foot)], FOLD, REACH)
    for one in sheet.placed:
        _draw_part(page, group, one, scale, left, foot)
    if sheet.room.sheet.grain is not Grain.NONE:
        way = sheet.room.sheet.grain is Grain.UP
        _grain_arrow(page, group, left + wide, foot + high, upright=way)


def _reach(room: Room, scale: float, left: float, foot: float) -> tuple[tuple[float, float], ...]:
    """Return the border of what the machine reaches of a sheet."""
    bare = float(room.margin.mm)
    across, up = (float(side.mm) + bare for side in room.size)
    return _frame(
        left + bare * scale, foot + bare * scale, left + across * scale, foot + up * scale
    )


def _frame(left: float, low: float, right: float, high: float) -> tuple[tuple[float, float], ...]:
    return ((left, low), (right, low), (right, high), (left, high), (left, low))


def _draw_part(
    page: Page, group: Any, one: PlacedPart, scale: float, left: float, foot: float
) -> None:
    import shapely

    motion = quarter_turn(one.quarters, one.part.width, one.part.height, one.x.mm, one.y.mm)

    def ring(path: Path) -> list[tuple[float, float]]:
        points = flattened(motion.path(path), SAGITTA)
        return [(left + float(x) * scale, foot + float(y) * scale) for x, y in points]

    rings = [ring(path) for path in one.part.outline]
    shape = shapely.Polygon(rings[0], rings[1:])
    page.fill(group, shape, _colour(one))
    page.line(group, [(*points, points[0]) for points in rings], FOLD)
    folds = [ring(piece) for line in one.part.folds for piece in line.pieces]
    page.line(group, [tuple(points) for points in folds], FOLD / 2, "0.8 0.6")
    _letter(page, group, one.letter, shape)


def _colour(one: PlacedPart) -> str:
    red, green, blue = _tint(one).face
    return f"#{round(red):02x}{round(green):02x}{round(blue):02x}"


def _tint(one: PlacedPart) -> Tint:
    return _TINTS.get(one.role, PAPER)


def _letter(page: Page, group: Any, letter: str, shape: Any) -> None:
    """Write the letter of a part into it, as large as there is room for up to TEXT."""
    place = shape.representative_point()
    left, low, right, high = shape.bounds
    size = min(TEXT, high - low, (right - left) / max(text_width(letter, 1.0), 0.1))
    if size >= 1.0:
        page.words(group, letter, place.x, place.y - size * 0.35, size, "middle")


def _grain_arrow(page: Page, group: Any, right: float, top: float, upright: bool) -> None:
    """Draw a small arrow with two heads beside a sheet, along its grain."""
    x, y, long = right + 2.2, top, 8.0
    ends = ((x, y - long), (x, y)) if upright else ((x - long, y + 2.2), (x, y + 2.2))
    page.line(group, [ends], FOLD)
    for (x0, y0), way in zip(ends, (-1, 1), strict=True):
        barbs = (
            ((x0 - 0.8, y0 - way * 1.2), (x0, y0), (x0 + 0.8, y0 - way * 1.2))
            if upright
            else ((x0 - way * 1.2, y0 - 0.8), (x0, y0), (x0 - way * 1.2, y0 + 0.8))
        )
        page.line(group, [barbs], FOLD)
