"""The foot of a page of a tiled drawing: its name, a ruler, and a map of the pages."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from textwrap import wrap

from ..drawing import Caption, Group, Item, Layer
from ..paths import Point, line, rectangle
from .rulers import HEIGHT, INCH, ruler
from .tiles import LETTER_SHARE, STRIP, Paper, Tile

NAME, SMALL = 4.5, 2.0  #: mm, of capital letters
PRINT_WORDS = "Print at 100 %, then lay a real ruler on this one."
JOIN_WORDS = "To join: cut along the dotted line, lay cross on cross."
_MAP = 24.0  # mm, at most, across
_GAP = 4.0
_TITLE_LINES = 4


def page_strip(
    title: str, paper: Paper, tiles: Sequence[Tile], number: int, keys: Sequence[str]
) -> tuple[Group, ...]:
    """Return what stands at the foot of page *number* (from 0) of *tiles*; *keys* of its groups."""
    left, bottom = paper.margin, paper.margin
    room = paper.width - 2 * paper.margin
    inches = 4 if room >= 3 * _GAP + 4 * INCH + _MAP + 40 else 2
    start = left + room - _MAP - _GAP - inches * INCH - 2 * _GAP
    hint = JOIN_WORDS if len(tiles) > 1 else ""
    captions = list(_words(title, tiles, number, (left, bottom), start - left - _GAP))
    ruled = ruler(keys[1], start, bottom, inches)
    above = [
        _caption(text, start, bottom + HEIGHT + 1 + (SMALL + 1) * i, SMALL)
        for i, text in enumerate((hint, PRINT_WORDS))
        if text
    ]
    strip = Group(keys[0], "Page", (), (*captions, *above))
    if len(tiles) == 1:
        return strip, ruled
    right = paper.width - paper.margin
    return strip, ruled, Group(keys[2], "Map", tuple(_map(tiles, number, right, bottom)))


def _caption(text: str, left: float, bottom: float, height: float) -> Caption:
    return Caption(Layer.LABEL, text, Point(left, bottom), height)


def _words(
    title: str, tiles: Sequence[Tile], number: int, at: tuple[float, float], room: float
) -> Iterator[Caption]:
    """Yield the name of a page, which of how many it is, and the title in a few short lines."""
    (left, bottom), name = at, tiles[number].name
    top = bottom + STRIP - 2 - NAME
    yield _caption(name, left, top, NAME)
    beside = left + (len(name) + 1) * NAME * LETTER_SHARE
    yield _caption(f"page {number + 1} of {len(tiles)}", beside, top, SMALL)
    for i, text in enumerate(_lines(title, int(room / (SMALL * LETTER_SHARE)))):
        yield _caption(text, left, top - (SMALL + 1.3) * (i + 1), SMALL)


def _lines(text: str, most: int) -> list[str]:
    """Return *text* in lines of at most so many letters; what is left over ends in dots."""
    return wrap(text, most, max_lines=_TITLE_LINES, placeholder=" ...")


def _map(tiles: Sequence[Tile], number: int, right: float, bottom: float) -> Iterator[Item]:
    """Yield a small rectangle for each page, the page itself crossed out."""
    rows, columns = (
        max(numbers) + 1 for numbers in zip(*((t.row, t.column) for t in tiles), strict=True)
    )
    window = tiles[number].window
    scale = min(_MAP / columns / window.width, (STRIP - 3) / rows / window.height)
    wide, high = window.width * scale, window.height * scale
    for i, tile in enumerate(tiles):
        x, y = right - (columns - tile.column) * wide, bottom + (rows - 1 - tile.row) * high
        yield Item(Layer.LABEL, rectangle(x, y, x + wide, y + high), f"page {tile.name}")
        if i == number:
            yield Item(Layer.LABEL, line((x, y), (x + wide, y + high)), "this page")
            yield Item(Layer.LABEL, line((x, y + high), (x + wide, y)), "this page")
