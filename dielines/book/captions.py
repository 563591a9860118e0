"""Names in the guide: the letter and title of a part, and what each of its panels is called."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from itertools import islice, product

from ..drawing import Caption, Group, Layer
from ..part import Panel, Part
from ..paths import Bounds, Point, bounds_of, encloses
from ..turning import caption_length
from .join_words import panel_words

LETTER, TITLE, NAME = 6.0, 2.2, 2.0  #: heights of capitals, mm
LEAST = 1.2  #: mm; smaller ones cannot be read
AIR = 0.8  #: mm, around a text
_SHARES = (0.5, 0.3, 0.7, 0.15, 0.85)  #: of a panel, where a text is tried


def with_names(group: Group, part: Part, letter: str) -> Group:
    """Return the *group* of *part*, at the origin, with letter, title and the names of its panels.

    A name that finds no room in its panel is left out.
    """
    taken = [_box(caption) for caption in group.captions]
    found = list(_heading(_main_panel(part), letter, group.title, taken))
    taken += map(_box, found)
    for panel in part.panels if part.lines else ():
        for caption in islice(_placed(panel, panel_words(part, panel.name), NAME, taken), 1):
            found.append(caption)
            taken.append(_box(caption))
    return replace(group, captions=(*group.captions, *found))


def _main_panel(part: Part) -> Panel:
    """Return the largest panel, or the whole of a part that is nowhere folded."""
    if not part.lines:
        return Panel(part.name, part.outline[0], part.outline[1:])
    return max(part.panels, key=_area)


def _area(panel: Panel) -> float:
    box = panel.bounds()
    return float(box.width * box.height)


def _heading(panel: Panel, letter: str, title: str, taken: Sequence[Bounds]) -> Iterable[Caption]:
    """Return letter and title where there is room for both, else the one that finds some."""
    if not letter:
        return islice(_placed(panel, title, TITLE, taken), 1)
    places = list(islice(_placed(panel, letter, LETTER, taken), len(_SHARES) ** 2))
    for first in places:
        for second in _placed(panel, title, TITLE, [*taken, _box(first)]):
            return first, second
    return places[:1]


def _placed(panel: Panel, text: str, height: float, taken: Sequence[Bounds]) -> Iterator[Caption]:
    """Yield *text* where it fits into *panel*: as large as there is room, level before upright."""
    box = panel.bounds()
    while height >= LEAST:
        for angle in (0.0, 90.0):
            for place in _places(box):
                caption = _centred(text, height, angle, place)
                if _fits(panel, _box(caption), taken):
                    yield caption
        height *= 0.8


def _places(box: Bounds) -> Iterator[Point]:
    """Yield the middle of *box*, then places around it, above and below first."""
    for x, y in product(_SHARES, _SHARES):
        yield Point(
            float(box.left) + x * float(box.width), float(box.bottom) + y * float(box.height)
        )


def _centred(text: str, height: float, angle_deg: float, at: Point) -> Caption:
    """Return the caption whose middle is *at*."""
    caption = Caption(Layer.LABEL, text, at, height, angle_deg)
    half = caption_length(caption) / 2
    if angle_deg:
        return replace(caption, at=Point(at.x + height / 2, at.y - half))
    return replace(caption, at=Point(at.x - half, at.y - height / 2))


def _box(caption: Caption) -> Bounds:
    """Return the room that a level or upright caption takes, with air around it."""
    x, y = float(caption.at.x), float(caption.at.y)
    length = caption_length(caption)
    if caption.angle_deg:
        return Bounds(x - caption.height - AIR, y - AIR, x + AIR, y + length + AIR)
    return Bounds(x - AIR, y - AIR, x + length + AIR, y + caption.height + AIR)


def _fits(panel: Panel, box: Bounds, taken: Iterable[Bounds]) -> bool:
    """Return whether *box* lies inside *panel*, outside its holes and apart from all *taken*."""
    outer = panel.bounds()
    if box.left < outer.left or box.right > outer.right:
        return False
    if box.bottom < outer.bottom or box.top > outer.top or any(_meet(box, b) for b in taken):
        return False
    corners = list(product((box.left, box.right), (box.bottom, box.top)))
    return all(encloses(panel.outline, corner) for corner in corners) and not any(
        _meet(box, bounds_of([hole])) for hole in panel.holes
    )


def _meet(a: Bounds, b: Bounds) -> bool:
    return a.left < b.right and b.left < a.right and a.bottom < b.top and b.bottom < a.top
