"""The pages of a tiled drawing: how many there are, and what each of them shows."""

from __future__ import annotations

import math
from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from dataclasses import dataclass

from ..drawing import Caption, Drawing
from ..errors import UsageError
from ..paths import Bounds, bounds_of, joined_bounds

STRIP = 20.0  #: mm, at the foot of every page: its name, the ruler and a map of the pages
MOST_PAGES = 400
SMALLEST = 100.0  #: mm; a page narrower than this within its margins has no room for the ruler
CLEAR = 1.0  #: mm kept around the paths, so that no outline runs along the edge of a page
LETTER_SHARE = 0.8  #: width of a letter to its height, of common sans serifs; from memory

#: How much of what the pages have to spare lies before the drawing; the middle first.
_FROM_THE_MIDDLE = tuple(sorted((n / 60 for n in range(61)), key=lambda x: (abs(x - 0.5), x)))

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


def grid(drawing: Drawing, paper: Paper) -> tuple[Tile, ...]:
    """Return all pages that cover *drawing*, row by row from the top left; raises UsageError.

    They lie so that as few paths as can be are parted, and in the middle among such places.
    """
    wide, high = paper.shown
    area, boxes = area_of(drawing), [bounds_of([i.path]) for i in drawing.items()]
    across = [(float(box.left), float(box.right)) for box in boxes]
    up = [(float(box.bottom), float(box.top)) for box in boxes]
    lefts = _starts((float(area.left), float(area.right)), wide, paper.overlap, across)
    bottoms = _starts((float(area.bottom), float(area.top)), high, paper.overlap, up)
    if len(lefts) * len(bottoms) > MOST_PAGES:
        words = f"{len(lefts)} x {len(bottoms)} pages"
        raise UsageError(f"{words}: choose larger paper, or a smaller drawing")
    return tuple(
        Tile(row, column, Bounds(x, y, x + wide, y + high))
        for row, y in enumerate(reversed(bottoms))
        for column, x in enumerate(lefts)
    )


def _starts(
    area: tuple[float, float], shown: float, overlap: float, spans: Sequence[tuple[float, float]]
) -> list[float]:
    """Return where the pages begin that cover *area* in one direction, and part few *spans*."""
    low, high = area
    step = shown - overlap
    count = max(math.ceil((high - low - overlap) / step - 1e-9), 1)
    spare = count * step + overlap - (high - low)
    if count > MOST_PAGES:
        return [low] * count
    tries = ([low - spare * share + step * n for n in range(count)] for share in _FROM_THE_MIDDLE)
    return min(tries, key=lambda starts: _parted(spans, starts, shown))


def _parted(
    spans: Sequence[tuple[float, float]], starts: Sequence[float], shown: float
) -> tuple[int, int]:
    """Return how many of *spans* lie on no page as a whole, and on how many pages all stand."""
    parted = pages = 0
    for low, high in spans:
        last = bisect_right(starts, low) - 1  # of the pages on which it begins, the last reaches on
        parted += last < 0 or high > starts[last] + shown
        pages += bisect_right(starts, high) - bisect_left(starts, low - shown)
    return parted, pages


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
