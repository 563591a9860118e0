"""What a pen writes on a part where nobody sees it in the finished book.

What lies under a zone of tape is hidden once the book is made. Nothing is written
anywhere else.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import product

from ..book.captions import AIR, Room, room_of
from ..drawing import Caption, Layer
from ..lettering.strokes_of import width_of
from ..part import Panel, Part, Side, Zone
from ..paths import Bounds, Point, signed_area

TALLEST, LEAST, SMALLER = (
    4.0,
    1.5,
    0.8,
)  #: mm of a capital; the least that a pen writes, from memory
LEADING = 1.6  #: from one base line to the next, in heights of a capital
DEEP = 0.35  #: of a capital, that letters reach below the base line
_SHARES = (0.5, 0.3, 0.7, 0.15, 0.85)  #: of a panel, where a text is tried


def hidden_labels(part: Part, letter: str, title: str, side: Side) -> tuple[Caption, ...]:
    """Return the name of *part* and how its hidden panels are folded, on *side*, which lies up.

    The largest zone of tape bears the letter and the title of the part, else the letter
    alone, and which way its panel folds; on every other panel that folds, the largest
    zone tells the letter and the way. A title that names several parts is left out, and
    so is what finds no room at LEAST. Empty where no tape lies on that side, or no zone
    is large enough.
    """
    found: list[Caption] = []
    name = "" if ";" in title else title
    for zone in sorted(_largest_zones(part, side), key=_area, reverse=True):
        room = room_of(Panel(zone.name, zone.path))
        hint = fold_hint(part, zone.panel, side)
        wordings = _reminders(letter, hint) if found else _wordings(letter, name, hint)
        found += next(filter(None, (next(_placed(room, words), ()) for words in wordings)), ())
    return tuple(found)


def _largest_zones(part: Part, side: Side) -> tuple[Zone, ...]:
    """Return the largest zone on *side* of each panel that has one."""
    largest: dict[str, Zone] = {}
    for zone in part.zones:
        before = largest.get(zone.panel)
        if zone.side is side and (before is None or _area(zone) > _area(before)):
            largest[zone.panel] = zone
    return tuple(largest.values())


def _area(zone: Zone) -> float:
    return abs(float(signed_area(zone.path)))


def _wordings(letter: str, title: str, hint: str) -> Iterator[tuple[str, ...]]:
    name = f"{letter} {title}".strip()
    for lines in ((name, hint), (letter or name, hint), (letter or name,)):
        yield tuple(filter(None, lines))


def _reminders(letter: str, hint: str) -> tuple[tuple[str, ...], ...]:
    """Return what is written where the name of the part stands already on another panel."""
    return ((letter, hint), (hint,)) if hint else ()


def fold_hint(part: Part, panel: str, side: Side) -> str:
    """Return which way *panel* folds along its only fold, seen with *side* up; empty without one.

    A valley on the side that lies up is folded up, towards the eye.
    """
    folds = [line for line in part.folds if panel in line.key.panels() and line.angle_deg]
    if len(folds) != 1:
        return ""
    is_valley = (folds[0].angle_deg > 0) == (side is Side.FACE)
    return "fold up" if is_valley else "fold back"


def _placed(room: Room, words: tuple[str, ...]) -> Iterator[tuple[Caption, ...]]:
    """Yield the lines where there is room for them: as large as may be, level before upright."""
    height = TALLEST
    while height >= LEAST:
        for angle, across, up in product((0.0, 90.0), _SHARES, _SHARES):
            lines = _lines(room, words, height, angle, (across, up))
            if all(room.has(box_of(line), ()) for line in lines):
                yield lines
        height *= SMALLER


def _lines(
    room: Room, words: tuple[str, ...], height: float, angle: float, shares: tuple[float, float]
) -> tuple[Caption, ...]:
    """Return the lines centred about a place of the panel."""
    left, bottom, right, top = room.box
    x, y = left + shares[0] * (right - left), bottom + shares[1] * (top - bottom)
    first = (len(words) - 1) * LEADING * height / 2 - height / 2
    found = []
    for number, text in enumerate(words):
        along, rise = -width_of(text, height) / 2, first - number * LEADING * height
        at = Point(x - rise, y + along) if angle else Point(x + along, y + rise)
        found.append(Caption(Layer.LABEL, text, at, height, angle))
    return tuple(found)


def box_of(caption: Caption) -> Bounds:
    """Return the room that a level or upright line takes, with air around it."""
    x, y, high = float(caption.at.x), float(caption.at.y), caption.height
    long, deep = width_of(caption.text, high), high * DEEP
    if caption.angle_deg:
        return Bounds(x - high - AIR, y - AIR, x + deep + AIR, y + long + AIR)
    return Bounds(x - AIR, y - deep - AIR, x + long + AIR, y + high + AIR)
