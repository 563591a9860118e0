"""A sheet as a drawing: every part where it lies, turned as it lies, as the machine takes it."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from fractions import Fraction

from ..book.captions import with_names
from ..drawing import Caption, Drawing, Group
from ..part import Side
from ..part_drawing import key_from, part_group
from ..part_motion import Motion
from ..paths import Number
from .hidden_labels import hidden_labels
from .layout import PlacedPart, SheetLayout
from .rooms import Room

ZERO = Fraction(0)


def sheet_drawing(sheet: SheetLayout, title: str) -> Drawing:
    """Return the drawing of *sheet*, as large as the sheet, with the names of its parts."""
    return _drawing(sheet, title, _named)


def labelled_drawing(sheet: SheetLayout, title: str, side_up: Side) -> Drawing:
    """Return the drawing of *sheet* with what a pen writes on *side_up*: only where it is hidden."""

    def labelled(group: Group, one: PlacedPart) -> Group:
        return replace(group, captions=hidden_labels(one.part, one.letter, one.title, side_up))

    return _drawing(sheet, title, labelled)


def bare_drawing(sheet: SheetLayout, title: str) -> Drawing:
    """Return the drawing of *sheet* without a word."""
    return _drawing(sheet, title, lambda group, one: replace(group, captions=()))


def _named(group: Group, one: PlacedPart) -> Group:
    return with_names(group, one.part, one.letter)


_Worded = Callable[[Group, PlacedPart], Group]


def _drawing(sheet: SheetLayout, title: str, worded: _Worded) -> Drawing:
    size = sheet.room.sheet.size
    groups = tuple(_groups(sheet, worded))
    drawing = Drawing(float(size.across.mm), float(size.up.mm), groups, title=title)
    return _fed_turned(drawing, sheet.room) if sheet.room.is_fed_turned else drawing


def _groups(sheet: SheetLayout, worded: _Worded) -> Iterator[Group]:
    alike: dict[str, Group] = {}
    named: dict[str, int] = {}
    for one in sheet.placed:
        if one.letter not in alike:
            alike[one.letter] = worded(part_group(one.part, "part", one.title), one)
        named[one.letter] = named.get(one.letter, 0) + 1
        group = replace(alike[one.letter], key=key_from(f"{one.letter}-{named[one.letter]}"))
        place = one.x.mm, one.y.mm
        yield moved(group, quarter_turn(one.quarters, one.part.width, one.part.height, *place))


def quarter_turn(quarters: int, width: Number, height: Number, x: Number, y: Number) -> Motion:
    """Return the motion that turns a rectangle by so many quarters and brings its lower left to (x, y).

    *width* and *height* are those before turning, its lower left at the origin.
    """
    return (
        Motion(1, 0, 0, 1, x, y),
        Motion(0, -1, 1, 0, x + height, y),
        Motion(-1, 0, 0, -1, x + width, y + height),
        Motion(0, 1, -1, 0, x, y + width),
    )[quarters % 4]


def moved(group: Group, motion: Motion) -> Group:
    """Return *group* with its paths and captions moved and turned."""
    angle = {(1, 0): 0.0, (0, 1): 90.0, (-1, 0): 180.0, (0, -1): 270.0}[motion.a, motion.c]
    return replace(
        group,
        items=tuple(replace(item, path=motion.path(item.path)) for item in group.items),
        captions=tuple(_moved_caption(caption, motion, angle) for caption in group.captions),
    )


def _moved_caption(caption: Caption, motion: Motion, angle_deg: float) -> Caption:
    return replace(
        caption, at=motion.place(caption.at), angle_deg=(caption.angle_deg + angle_deg) % 360
    )


def _fed_turned(drawing: Drawing, room: Room) -> Drawing:
    """Return *drawing* as the machine takes it: turned by a quarter, its room still at the lower left."""
    far = (room.margin + room.margin + room.size.up).mm
    motion = Motion(0, -1, 1, 0, far, ZERO)
    groups = tuple(moved(group, motion) for group in drawing.groups)
    return replace(drawing, width=drawing.height, height=drawing.width, groups=groups)
