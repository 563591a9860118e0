"""What a page holds does not go in, is too thick, or sticks out."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from ...folding.contents import CONTENTS, Carrier, Stowed, stowed_things
from ...folding.folded_book import FoldedBook
from ...folding.levels import Box, PanelKey
from ...folding.walls import Wall
from ...part import Side
from ..finding import Advice, Amount, Finding, Severity, Spot
from ..right_sizes import NEAR, deeper_advice, fine, made, page_number
from ..words import panel_words, part_words, shown

FLAT = 1.0  #: mm that go into a pocket without depth: its paper gives (m)

NAME = "contents do not fit"
WHY = (
    "What a page is made to hold must go into its pocket across, up and in thickness; a pocket"
    " that is filled too full bulges, and what is larger than the page sticks out of the book."
)
WORST = Severity.ERROR
SOURCE = (
    "geometry: size and thickness of what the book says each page holds; that a flat pocket"
    f" takes {FLAT:g} mm is from memory"
)

ACROSS_MOUTHS = ("left", "right")


def check(folded: FoldedBook) -> Iterator[Finding]:
    """Yield what does not fit, thing by thing, then what is too thick, place by place."""
    levels = folded.thickness.stack.levels
    for page in folded.book.request.pages:
        places: dict[Carrier, list[Stowed]] = {}
        for stowed in stowed_things(page, folded.parts, levels):
            places.setdefault(stowed.carrier, []).append(stowed)
            yield from _too_large(folded, stowed)
        for carrier, things in places.items():
            yield from _too_thick(folded, carrier, things)


# ------------------------------------------------------------------ across and up


def _too_large(folded: FoldedBook, stowed: Stowed) -> Iterator[Finding]:
    """Yield by how much a thing is larger than the place that it is put in."""
    size, box = stowed.thing.size, _inside(folded, stowed.carrier)
    sticking = (
        float(size.across.mm) - (box.right - box.left),
        float(size.up.mm) - (box.top - box.bottom),
    )
    mouth = _mouth_axis(folded, stowed.carrier)
    for axis, over in enumerate(sticking):
        room = _room_beyond(folded, stowed.carrier, axis) if axis == mouth else 0.0
        if over - room > NEAR:
            is_closed = mouth is not None and axis != mouth
            yield _large(folded, stowed, axis, over - room, is_closed)


def _inside(folded: FoldedBook, carrier: Carrier) -> Box:
    """Return what the front and the back of a pocket share, or the page."""
    levels = folded.thickness.stack.levels
    box = levels[carrier.key].box
    back = (carrier.key[0], carrier.pocket.back) if carrier.pocket else carrier.key
    return (box.shared(levels[back].box) if back in levels else None) or box


def _mouth_axis(folded: FoldedBook, carrier: Carrier) -> int | None:
    """Return along which axis the mouth of a pocket opens: 0 across, 1 up; None without pocket."""
    if carrier.pocket is None:
        return None
    mouths = folded.parts[carrier.key[0]].part.mouths
    side = next(mouth.side for mouth in mouths if mouth.panel == carrier.pocket.front)
    return 0 if side in ACROSS_MOUTHS else 1


def _room_beyond(folded: FoldedBook, carrier: Carrier, axis: int) -> float:
    """Return how far something may stick out of a mouth before it sticks out of its page."""
    stack = folded.thickness.stack
    number = page_number(carrier.key[0])
    boxes = [
        stack.levels[key].box
        for part, keys in stack.of_part.items()
        if page_number(part) == number
        for key in keys
    ]
    box = stack.levels[carrier.key].box
    if axis == 0:
        return max(box.left - min(b.left for b in boxes), max(b.right for b in boxes) - box.right)
    return max(box.bottom - min(b.bottom for b in boxes), max(b.top for b in boxes) - box.top)


def _large(folded: FoldedBook, stowed: Stowed, axis: int, over: float, is_closed: bool) -> Finding:
    book, (part, panel) = folded.book, stowed.carrier.key
    size = stowed.thing.size
    way = ("wide", "high")[axis]
    length = shown(book, (size.across, size.up)[axis].mm)
    place = f"its pocket ({panel_words(book, part, panel)})" if stowed.carrier.pocket else "it"
    what = "too large for" if is_closed else "sticks out of"
    return Finding(
        Severity.ERROR if is_closed else Severity.WARNING,
        Spot(part, panel),
        f"{stowed.thing.what} for {part_words(book, part)}: {length} {way}, {shown(book, over)}"
        f" {what} {place}",
        f"choose a smaller one, or make the page {shown(book, over)} more {('across', 'up')[axis]}",
        Amount(over),
    )


# ------------------------------------------------------------------ thickness


class _Room(NamedTuple):
    """How thick a place can get, opposite which panel, and the wall that says so, if any."""

    clear: float
    opposite: str
    wall: Wall | None


def _too_thick(folded: FoldedBook, carrier: Carrier, things: list[Stowed]) -> Iterator[Finding]:
    """Yield by how much what lies in one place is thicker than its room."""
    thick = float(sum(stowed.thickness for stowed in things))
    room = _pocket_room(folded, carrier) if carrier.pocket else _flap_room(folded, carrier)
    if room is None or thick - room.clear <= NEAR:
        return
    book, (part, panel) = folded.book, carrier.key
    over = thick - room.clear
    advice = _advice(folded, room.wall, over)
    names = " and ".join(dict.fromkeys(stowed.thing.what for stowed in things))
    yield Finding(
        Severity.WARNING,
        Spot(part, panel),
        f"{names} in {part_words(book, part)}: {fine(book, thick)} thick together, but between"
        f" {panel_words(book, part, panel)} and {panel_words(book, part, room.opposite)} there is"
        f" room for {fine(book, room.clear)}",
        f"{made(book, advice, 'deep', (over, 'deeper'))}, or put less in",
        Amount(over),
        advice,
    )


def depth_for_contents(folded: FoldedBook, wall: Wall) -> float:
    """Return how wide (mm) a gusset must be for all that lies between its panels; 0 for nothing.

    It is more than the gusset itself needs where things reach under a seam.
    """
    stack, number = folded.thickness.stack, page_number(wall.part)
    needed = [0.0]
    for page in folded.book.request.pages:
        things = stowed_things(page, folded.parts, stack.levels) if page.number == number else []
        for carrier in dict.fromkeys(stowed.carrier for stowed in things):
            room = _pocket_room(folded, carrier) if carrier.pocket else _flap_room(folded, carrier)
            if room and room.wall and abs(room.wall.width - wall.width) < NEAR:
                thick = float(sum(s.thickness for s in things if s.carrier == carrier))
                needed.append(wall.width + thick - room.clear)
    return max(needed)


def _advice(folded: FoldedBook, wall: Wall | None, over: float) -> tuple[Advice, ...]:
    if wall is None:
        return ()
    return deeper_advice(folded.book, folded.thickness, wall, wall.width + over)


def _pocket_room(folded: FoldedBook, carrier: Carrier) -> _Room | None:
    """Return the room in a pocket: under its seam, where what it holds reaches there."""
    part = carrier.key[0]
    depths = [p for p in folded.thickness.pockets if (p.part, p.panels.front) == carrier.key]
    if not depths:
        return None
    pocket = depths[0]
    if pocket.depth <= NEAR:
        return _Room(FLAT, pocket.panels.back, None)
    under = [seam for seam in pocket.panels.seams if _reaches(folded, carrier, (part, seam))]
    clear = pocket.under_seam if under else pocket.clear
    walls = [w for w in _walls_at(folded, carrier) if abs(w.width - pocket.depth) < NEAR]
    return _Room(clear, [*under, pocket.panels.back][0], walls[0] if walls else None)


def _reaches(folded: FoldedBook, carrier: Carrier, seam: PanelKey) -> bool:
    """Return whether what a pocket holds reaches under one of its seams."""
    stack = folded.thickness.stack
    coats = [c for c in stack.coats.get(carrier.key, ()) if c.kind == CONTENTS]
    return any(coat.box.shared(stack.levels[seam].box) for coat in coats)


def _flap_room(folded: FoldedBook, carrier: Carrier) -> _Room | None:
    """Return the least room behind the flaps of a page; None where it has none on that side."""
    found = []
    for wall in _walls_at(folded, carrier):
        other = wall.upper if wall.lower == carrier.key else wall.lower
        sign = 1 if carrier.side is Side.FACE else -1
        if folded.parts[wall.part].side_of(carrier.key[1], other[1]) == sign:
            found.append(_Room(wall.width - wall.needed_empty, other[1], wall))
    return min(found, key=lambda room: room.clear, default=None)


def _walls_at(folded: FoldedBook, carrier: Carrier) -> list[Wall]:
    walls = folded.thickness.walls
    return [w for w in walls if not w.is_channel and carrier.key in (w.lower, w.upper)]
