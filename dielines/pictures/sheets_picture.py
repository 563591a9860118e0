"""All different sheets of a book in one picture: what lies where, and how often each is cut."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from ..paths import Path, flattened
from ..sheets.layout import BookLayout, PlacedPart, SheetLayout, StockLayout
from ..sheets.sheet_drawing import quarter_turn
from ..sheets.sheets_text import WORDS
from ..workshop.stock import Grain
from .svg_page import FOLD, SMALL, TEXT, Page, text_width
from .tints import BACKING, BOARD, COVERING, INSERT, MAT, PAPER, Tint

WIDTH = 280.0  #: of the page, mm; it prints on A4 or letter lying wide
MARGIN, GAP = 8.0, 7.0  #: mm, around the page and between sheets
LARGEST = 80.0  #: mm, the longer side of the largest sheet in the picture
HEADING = 3.8  #: font size of the name of a stock, mm
HEAD, TITLE = 5.0, 6.0  #: mm, above a sheet, above the sheets of a stock
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
    scale: float

    @property
    def width(self) -> float:
        """The room across that it takes."""
        wide = float(self.sheet.room.sheet.size.across.mm) * self.scale
        return max(wide, text_width(self.heading, HEADING)) + GAP

    @property
    def height(self) -> float:
        """The room up that it takes, without its heading."""
        return float(self.sheet.room.sheet.size.up.mm) * self.scale + HEAD


def sheets_picture(title: str, layout: BookLayout) -> str:
    """Return an SVG with every different sheet of *layout*; raises ValueError where there is none."""
    sides = [float(side.mm) for _, sheet in layout.sheets() for side in sheet.room.sheet.size]
    if not sides:
        raise ValueError("there is no sheet to draw")
    scale = LARGEST / max(sides)
    rows = _rows([cell for stock in layout.stocks for cell in _cells(stock, scale)])
    height = sum(_height(row) for row in rows) + 2 * MARGIN
    words = "Every different sheet with the letters of its parts."
    page = Page(WIDTH, height, f"{title}: sheets", words)
    top = height - MARGIN
    for row in rows:
        _draw_row(page, row, top)
        top -= _height(row)
    return page.text()


def _cells(stock: StockLayout, scale: float) -> Iterator[_Cell]:
    heading = f"{stock.stock.name}, {WORDS[stock.terms.by]}"
    for sheet in stock.sheets:
        yield _Cell(sheet, heading, scale)
        heading = ""


def _rows(cells: Sequence[_Cell]) -> list[list[_Cell]]:
    """Return cells in the order in which one reads."""
    rows: list[list[_Cell]] = [[]]
    for cell in cells:
        if rows[-1] and sum(one.width for one in [*rows[-1], cell]) > WIDTH - 2 * MARGIN + GAP:
            rows.append([])
        rows[-1].append(cell)
    return rows


def _height(row: Sequence[_Cell]) -> float:
    title = TITLE if any(cell.heading for cell in row) else 0
    return max(cell.height for cell in row) + title + GAP


def _draw_row(page: Page, row: Sequence[_Cell], top: float) -> None:
    left, below = MARGIN, TITLE if any(cell.heading for cell in row) else 0
    for cell in row:
        if cell.heading:
            page.words(page.group("stock"), cell.heading, left, top - TEXT, HEADING)
        _draw_sheet(page, cell.sheet, cell.scale, left, top - below - cell.height)
        left += cell.width


def _draw_sheet(page: Page, sheet: SheetLayout, scale: float, left: float, foot: float) -> None:
    size = sheet.room.sheet.size
    wide, high = float(size.across.mm) * scale, float(size.up.mm) * scale
    group = page.group(f"sheet-{sheet.number}")
    times = f", {sheet.times} times" if sheet.times > 1 else ""
    page.words(group, f"sheet {sheet.number}{times}", left, foot + high + 1.4, SMALL)
    page.line(group, [_frame(left, foot, left + wide, foot + high)], FOLD)
    for one in sheet.placed:
        _draw_part(page, group, one, scale, left, foot)
    if sheet.room.sheet.grain is not Grain.NONE:
        way = sheet.room.sheet.grain is Grain.UP
        _grain_arrow(page, group, left + wide, foot + high, upright=way)


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
