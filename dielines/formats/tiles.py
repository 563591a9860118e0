"""The pages of a tiled drawing: how many there are, and what each of them shows."""

from __future__ import annotations

import math
from dataclasses import dataclass

from ..drawing import Caption, Drawing
from ..errors import UsageError
from ..paths import Bounds, bounds_of, joined_bounds

STRIP = 20.0  #: mm, at the foot of every page: its name, the ruler and a map of the pages
MOST_PAGES = 400
SMALLEST = 100.0  #: mm; a page narrower than this within its margins has no room for the ruler
CLEAR = 1.0  #: mm kept around the paths, so that no outline runs along the edge of a page
LETTER_SHARE = 0.8  #: width of a letter to its height, of common sans serifs; from memory

Size = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Paper:
    """A page of a printer, the margin that stays white, and how far neighbours overlap, mm.

    Raises UsageError for a page without room, and for what is no length.
    """

    width: float
    height: float
    margin: float
    overlap: float

    def __post_init__(self) -> None:
        if not all(map(math.isfinite, (self.width, self.height, self.margin, self.overlap))):
            raise UsageError("a page, an overlap or a margin that is no number")
        if self.margin < 0 or self.overlap < 0:
            raise UsageError("an overlap and a margin are not less than 0")
        if self.shown[0] < SMALLEST or self.shown[1] < SMALLEST / 2:
            words = f"{self.width:g} x {self.height:g} mm with margins of {self.margin:g} mm"
            raise UsageError(f"paper of {words} has no room: choose A4 or letter")
        if self.overlap > min(self.shown) / 2:
            raise UsageError(f"an overlap of {self.overlap:g} mm is more than half a page")

    @property
    def shown(self) -> Size:
        """Width and height of what a page shows of the drawing."""
        return self.width - 2 * self.margin, self.height - 2 * self.margin - STRIP


@dataclass(frozen=True, slots=True)
class Tile:
    """A page: its row from the top and column from the left, and what it shows."""

    row: int
    column: int
    window: Bounds

    @property
    def name(self) -> str:
        """The row as a letter and the column as a number: "B3"."""
        return f"{row_letters(self.row)}{self.column + 1}"


def row_letters(row: int) -> str:
    """Return the letters of the row that has *row* others above it.

    >>> row_letters(0), row_letters(25), row_letters(26)
    ('A', 'Z', 'AA')
    """
    rest, last = divmod(row, 26)
    return (row_letters(rest - 1) if rest else "") + chr(ord("A") + last)


def grid(area: Bounds, paper: Paper) -> tuple[Tile, ...]:
    """Return all pages that cover *area*, row by row from the top left; raises UsageError."""
    wide, high = paper.shown
    columns, left = _spread(float(area.left), float(area.right), wide, paper.overlap)
    rows, bottom = _spread(float(area.bottom), float(area.top), high, paper.overlap)
    if columns * rows > MOST_PAGES:
        raise UsageError(f"{columns} x {rows} pages: choose larger paper, or a smaller drawing")
    lefts = [left + column * (wide - paper.overlap) for column in range(columns)]
    bottoms = [bottom + row * (high - paper.overlap) for row in reversed(range(rows))]
    return tuple(
        Tile(row, column, Bounds(x, y, x + wide, y + high))
        for row, y in enumerate(bottoms)
        for column, x in enumerate(lefts)
    )


def _spread(low: float, high: float, shown: float, overlap: float) -> tuple[int, float]:
    """Return how many pages show *low* to *high*, and where the first begins; room left is halved."""
    step = shown - overlap
    count = max(math.ceil((high - low - overlap) / step - 1e-9), 1)
    return count, low - (count * step + overlap - (high - low)) / 2


def area_of(drawing: Drawing) -> Bounds:
    """Return what has to be shown: paths and captions, and a little around them."""
    boxes = [bounds_of([item.path]) for item in drawing.items() if item.path.vertices]
    boxes += [caption_box(text) for group in drawing.groups for text in group.captions]
    left, bottom, right, top = joined_bounds(boxes) if boxes else drawing.bounds()
    return Bounds(left - CLEAR, bottom - CLEAR, right + CLEAR, top + CLEAR)


def caption_box(caption: Caption) -> Bounds:
    """Return the rectangle around a caption, by the usual width of its letters."""
    angle = math.radians(caption.angle_deg)
    length = len(caption.text) * caption.height * LETTER_SHARE
    along = length * math.cos(angle), length * math.sin(angle)
    up = -caption.height * math.sin(angle), caption.height * math.cos(angle)
    x, y = (
        sorted(float(at) + a * rightward + b * upward for a in (0, 1) for b in (0, 1))
        for at, rightward, upward in zip(caption.at, along, up, strict=True)
    )
    return Bounds(x[0], y[0], x[-1], y[-1])
