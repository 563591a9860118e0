"""A drawing on several pages of paper that any printer takes, to be joined to one.

Neighbouring pages overlap. In the middle of an overlap runs a dotted line, along
which one of the two is cut, and crosses stand on it, on both, that are laid upon each
other. Every page has its row and column, a map of the pages and a ruler.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import count

from ..drawing import Caption, Drawing, Group, Item, Layer
from ..paths import Bounds, Point, line, translated
from .clipping import clipped
from .look import with_true_size
from .page_strip import page_strip
from .tiles import STRIP, Paper, Size, Tile, caption_box, grid

#: Usual paper of printers, mm, upright: ISO 216, and ASME Y14.1 A.
A4, US_LETTER = (210.0, 297.0), (215.9, 279.4)
MARGIN = 7.0  #: mm that printers leave white at every edge; common practice with no source
OVERLAP = 10.0  #: mm; common practice with no source
_ARM = 3.0  # mm, of a cross
_FROM_END = 8.0  # mm, of a cross from the end of the overlap


def tiled(
    drawing: Drawing, page: Size = A4, overlap: float = OVERLAP, margin: float = MARGIN
) -> tuple[Drawing, ...]:
    """Return *drawing* on pages of that size (mm), row by row from the top left.

    Paths are cut exactly where their page ends; together the pages show all of them,
    and pages that would show nothing are left out. A caption stands on every page
    that shows all of it, else on each that shows some, moved to where it has room. Raises UsageError for
    a page without room, an overlap that is no length, and too many pages.
    """
    paper = Paper(*page, margin, overlap)
    tiles = grid(drawing, paper)
    groups = [_shown(drawing, tile, tiles) for tile in tiles]
    made = [(tile, shown) for tile, shown in zip(tiles, groups, strict=True) if shown]
    shown_tiles = [tile for tile, _ in made] or list(tiles[:1])
    contents = [shown for _, shown in made] or [()]
    return tuple(
        _page(drawing, paper, shown_tiles, number, shown) for number, shown in enumerate(contents)
    )


def tiled_either_way(
    drawing: Drawing, page: Size = A4, overlap: float = OVERLAP, margin: float = MARGIN
) -> tuple[Drawing, ...]:
    """Return *drawing* on pages that all stand or all lie, whichever are fewer, then part less."""
    ways = ((min(page), max(page)), (max(page), min(page)))
    both = [tiled(drawing, way, overlap, margin) for way in ways]
    return min(both, key=lambda pages: (len(pages), sum(len(each.items()) for each in pages)))


def _shown(drawing: Drawing, tile: Tile, tiles: Sequence[Tile]) -> tuple[Group, ...]:
    """Return what *tile* shows of every part, where the drawing has it."""
    groups = (
        replace(
            group,
            items=tuple(_items_within(group, tile.window)),
            captions=tuple(
                _drawn_in(c, tile.window) for c in group.captions if tile in _hosts(c, tiles)
            ),
        )
        for group in drawing.groups
    )
    return tuple(group for group in groups if group.items or group.captions)


def _items_within(group: Group, window: Bounds) -> Iterator[Item]:
    for item in group.items:
        for piece in clipped(item.path, window):
            yield replace(item, path=piece)


def _hosts(caption: Caption, tiles: Sequence[Tile]) -> list[Tile]:
    """Return the pages on which *caption* stands."""
    box = caption_box(caption)
    whole = [tile for tile in tiles if _is_within(box, tile.window)]
    return whole or [tile for tile in tiles if _meet(box, tile.window)]


def _drawn_in(caption: Caption, window: Bounds) -> Caption:
    """Return *caption* moved as little as can be to where it stands within *window*."""
    box = caption_box(caption)
    dx = max(min(0.0, float(window.right - box.right)), float(window.left - box.left))
    dy = max(min(0.0, float(window.top - box.top)), float(window.bottom - box.bottom))
    return replace(caption, at=Point(caption.at.x + dx, caption.at.y + dy)) if dx or dy else caption


def _is_within(box: Bounds, window: Bounds) -> bool:
    across = window.left <= box.left and box.right <= window.right
    return across and window.bottom <= box.bottom and box.top <= window.top


def _meet(box: Bounds, window: Bounds) -> bool:
    across = box.left <= window.right and window.left <= box.right
    return across and box.bottom <= window.top and window.bottom <= box.top


def _page(
    drawing: Drawing, paper: Paper, tiles: Sequence[Tile], number: int, shown: tuple[Group, ...]
) -> Drawing:
    tile = tiles[number]
    marks_key, *keys = _free_keys(drawing, ("register-marks", "page", "page-ruler", "page-map"))
    marks = Group(marks_key, "Register marks", tuple(_register_marks(tile, tiles)))
    dx = paper.margin - float(tile.window.left)
    dy = paper.margin + STRIP - float(tile.window.bottom)
    groups = [_moved(group, dx, dy) for group in (*shown, *([marks] if marks.items else []))]
    words = f"{tile.name}, {number + 1} of {len(tiles)}"
    return with_true_size(
        replace(
            drawing,
            width=paper.width,
            height=paper.height,
            groups=(*groups, *page_strip(drawing.title, paper, tiles, number, keys)),
            title=f"{drawing.title} {tile.name}".strip(),
            metadata=(*drawing.metadata, ("page", words)),
        )
    )


def _free_keys(drawing: Drawing, wanted: Sequence[str]) -> list[str]:
    """Return a key like each of *wanted* that no part has."""
    taken = {group.key for group in drawing.groups}
    return [
        next(key for n in count(1) if (key := stem if n == 1 else f"{stem}-{n}") not in taken)
        for stem in wanted
    ]


def _moved(group: Group, dx: float, dy: float) -> Group:
    items = (replace(item, path=translated(item.path, dx, dy)) for item in group.items)
    captions = (replace(c, at=Point(c.at.x + dx, c.at.y + dy)) for c in group.captions)
    return replace(group, items=tuple(items), captions=tuple(captions))


def _register_marks(tile: Tile, tiles: Sequence[Tile]) -> Iterator[Item]:
    """Yield dotted line and crosses of every overlap that *tile* has with a page beside it."""
    for other in tiles:
        rows, columns = abs(tile.row - other.row), abs(tile.column - other.column)
        if rows + columns == 1:
            yield from _marks_of(_overlap(tile.window, other.window), rows == 0)


def _overlap(a: Bounds, b: Bounds) -> Bounds:
    return Bounds(
        max(a.left, b.left), max(a.bottom, b.bottom), min(a.right, b.right), min(a.top, b.top)
    )


def _marks_of(band: Bounds, is_upright: bool) -> Iterator[Item]:
    """Yield the marks of an overlap; one of no width has none."""
    narrow = float(band.width if is_upright else band.height)
    if narrow <= 0:
        return
    x, y = float(band.left + band.right) / 2, float(band.bottom + band.top) / 2
    arm = min(_ARM, narrow / 2)
    if is_upright:
        yield Item(Layer.MARK, line((x, band.bottom), (x, band.top)), "cut one page here")
        places = [(x, band.bottom + _FROM_END), (x, band.top - _FROM_END)]
    else:
        yield Item(Layer.MARK, line((band.left, y), (band.right, y)), "cut one page here")
        places = [(band.left + _FROM_END, y), (band.right - _FROM_END, y)]
    for px, py in places:
        yield Item(Layer.LABEL, line((px - arm, py), (px + arm, py)), "cross")
        yield Item(Layer.LABEL, line((px, py - arm), (px, py + arm)), "cross")
