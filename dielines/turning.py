"""A drawing for the other side of the paper, elsewhere on its page, and for one scoring tool."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace

from .drawing import Caption, Drawing, Group, Item, Layer
from .paths import Number, Point, mapped, translated

#: What each layer becomes when the other side of the paper lies up.
OTHER_SIDE: dict[Layer, Layer] = {
    Layer.SCORE_VALLEY: Layer.SCORE_MOUNTAIN,
    Layer.SCORE_MOUNTAIN: Layer.SCORE_VALLEY,
    Layer.TAPE_FACE: Layer.TAPE_REVERSE,
    Layer.TAPE_REVERSE: Layer.TAPE_FACE,
}
#: Width of a letter as a share of a capital's height; from memory, of common sans serifs.
LETTER_SHARE = 0.8


def turned_over(drawing: Drawing) -> Drawing:
    """Return *drawing* as the paper shows it when it is turned over like a page of a book.

    Left becomes right, a valley becomes a mountain, and TAPE_FACE changes with
    TAPE_REVERSE, for these two name the side that lies up and the side that
    lies down in the picture. Words stay readable, about where they were.

    >>> from .paths import line
    >>> score = Item(Layer.SCORE_VALLEY, line((2, 0), (2, 7)))
    >>> over = turned_over(Drawing(10, 7, (Group("page", "", (score,)),)))
    >>> over.items()[0].layer, over.items()[0].path.points[0], over.face_up
    (<Layer.SCORE_MOUNTAIN: 'SCORE_MOUNTAIN'>, Point(x=8, y=0), False)
    """

    def across(point: Point) -> Point:
        return Point(drawing.width - point.x, point.y)

    groups = tuple(_group_turned(group, across) for group in drawing.groups)
    return replace(drawing, groups=groups, face_up=not drawing.face_up)


def moved(drawing: Drawing, dx: Number, dy: Number) -> Drawing:
    """Return *drawing* with all that is on its page moved by (*dx*, *dy*), mm; the page stays."""
    if not (dx or dy):
        return drawing
    groups = (
        replace(
            group,
            items=tuple(replace(item, path=translated(item.path, dx, dy)) for item in group.items),
            captions=tuple(
                replace(text, at=Point(text.at.x + dx, text.at.y + dy)) for text in group.captions
            ),
        )
        for group in drawing.groups
    )
    return replace(drawing, groups=tuple(groups))


def _group_turned(group: Group, across: Callable[[Point], Point]) -> Group:
    return replace(
        group,
        items=tuple(_item_turned(item, across) for item in group.items),
        captions=tuple(_caption_turned(caption, across) for caption in group.captions),
    )


def _item_turned(item: Item, across: Callable[[Point], Point]) -> Item:
    layer = OTHER_SIDE.get(item.layer, item.layer)
    return replace(item, layer=layer, path=mapped(item.path, across, turns_over=True))


def _caption_turned(caption: Caption, across: Callable[[Point], Point]) -> Caption:
    """Return *caption* from where the mirror image of its end lies."""
    angle = math.radians(caption.angle_deg)
    length = caption_length(caption)
    end = Point(caption.at.x + length * math.cos(angle), caption.at.y + length * math.sin(angle))
    layer = OTHER_SIDE.get(caption.layer, caption.layer)
    return replace(caption, layer=layer, at=across(end), angle_deg=-caption.angle_deg)


def caption_length(caption: Caption) -> float:
    """Return about how long *caption* is, mm; the font decides."""
    return LETTER_SHARE * caption.height * len(caption.text)


def with_one_scoring_tool(drawing: Drawing) -> Drawing:
    """Return *drawing* with all scores on SCORE_VALLEY, for a machine that has one tool for both."""
    groups = tuple(
        replace(group, items=tuple(_scored_alike(item) for item in group.items))
        for group in drawing.groups
    )
    return replace(drawing, groups=groups)


def _scored_alike(item: Item) -> Item:
    is_mountain = item.layer is Layer.SCORE_MOUNTAIN
    return replace(item, layer=Layer.SCORE_VALLEY) if is_mountain else item
