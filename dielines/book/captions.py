"""Names in the guide: the letter and title of a part, and what each of its panels is called."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import islice, product

from ..drawing import Caption, Group, Layer
from ..landing import rectangle_of
from ..part import Panel, Part
from ..paths import Bounds, Point, bounds_of, flattened, is_among
from ..turning import caption_length
from .join_words import panel_words

LETTER, TITLE, NAME = 6.0, 2.2, 2.0  #: heights of capitals, mm
LEAST = 1.2  #: mm; smaller ones cannot be read
SMALLER = 0.8  #: from one height that is tried to the next
AIR = 0.8  #: mm, around a text
SAGITTA = 0.2  #: mm; so far the border of a panel may be off where texts are placed
_SHARES = (0.5, 0.3, 0.7, 0.15, 0.85)  #: of a panel, where a text is tried


@dataclass(frozen=True)
class Room:
    """Where texts may stand: a panel, its holes, and what stands there already."""

    corners: Sequence[tuple[float, float]]  #: of the panel, arcs as chords
    box: tuple[float, float, float, float]
    holes: tuple[Bounds, ...]
    is_rectangle: bool

    def has(self, box: Bounds, taken: Iterable[Bounds]) -> bool:
        """Return whether *box* lies inside the panel, outside its holes and apart from *taken*."""
        left, bottom, right, top = self.box
        if box.left < left or box.right > right or box.bottom < bottom or box.top > top:
            return False
        if any(_meet(box, other) for other in taken) or any(_meet(box, h) for h in self.holes):
            return False
        ends = product((box.left, box.right), (box.bottom, box.top))
        return self.is_rectangle or all(is_among(self.corners, place) for place in ends)


def room_of(panel: Panel) -> Room:
    """Return the room for texts on *panel*."""
    box = bounds_of([panel.outline])
    return Room(
        flattened(panel.outline, SAGITTA),
        (float(box.left), float(box.bottom), float(box.right), float(box.top)),
        tuple(bounds_of([hole]) for hole in panel.holes),
        rectangle_of(panel.outline) is not None,
    )


def with_names(group: Group, part: Part, letter: str) -> Group:
    """Return the *group* of *part*, at the origin, with letter, title and the names of its panels.

    A name that finds no room in its panel is left out.
    """
    taken = [_box(caption) for caption in group.captions]
    found = list(_heading(_main_panel(part), letter, group.title, taken))
    taken += map(_box, found)
    for panel in part.panels if part.lines else ():
        text = panel_words(part, panel.name)
        for caption in islice(_placed(room_of(panel), text, NAME, taken), 1):
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
    room = room_of(panel)
    if not letter:
        return islice(_placed(room, title, TITLE, taken), 1)
    alone: tuple[Caption, ...] = ()
    for first in islice(_placed(room, letter, LETTER, taken), len(_SHARES) ** 2):
        for second in _placed(room, title, TITLE, [*taken, _box(first)]):
            return first, second
        alone = alone or (first,)
    return alone


def _placed(room: Room, text: str, height: float, taken: Sequence[Bounds]) -> Iterator[Caption]:
    """Yield *text* where there is room for it: as large as may be, level before upright."""
    while height >= LEAST:
        for angle in (0.0, 90.0):
            for place in _places(room, text, height, angle):
                caption = _centred(text, height, angle, place)
                if room.has(_box(caption), taken):
                    yield caption
        height *= SMALLER


def _places(room: Room, text: str, height: float, angle_deg: float) -> Iterator[Point]:
    """Yield the middle of the panel, then places around it; none where the text is too long."""
    left, bottom, right, top = room.box
    width, rise = right - left, top - bottom
    length = caption_length(Caption(Layer.LABEL, text, Point(0, 0), height))
    if length <= (rise if angle_deg else width):
        for x, y in product(_SHARES, _SHARES):
            yield Point(left + x * width, bottom + y * rise)


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


def _meet(a: Bounds, b: Bounds) -> bool:
    return a.left < b.right and b.left < a.right and a.bottom < b.top and b.bottom < a.top
