"""The joins that hold the pages to their case: channels to the spine, cover tabs to the boards."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from ..part import Part, Side
from ..part_motion import Motion
from ..paths import Number
from .bound import Join, Towards
from .case import BOARD_KEYS
from .frame import Frame
from .joining import placed_join


def channel_places(names: Sequence[str], frame: Frame) -> list[Fraction]:
    """Return where each of the channels called *names* begins on the inside of the spine board, from the front, mm."""
    places, at = [], frame.sizes.length("spine_spare").mm
    for name in names:
        places.append(at)
        at += frame.sizes.length(name).mm
    return places


def spine_join(key: str, part: Part, panel: str, place: Fraction, frame: Frame) -> Join:
    """Return the join of a channel onto the spine board, whose face is its outside.

    Seen from outside, the front of the book is at the right; the inside is its reverse.
    """
    box = part.panel(panel).bounds()
    spine = frame.sizes.length("spine").mm
    left = spine - place - box.width
    rise = frame.sizes.length("square").mm - box.bottom
    motion = Motion(dx=left - box.left, dy=rise)
    zone = next(zone.name for zone in part.zones if zone.panel == panel)
    return placed_join(key, part, zone, panel, motion, ("spine-board", "spine", Side.REVERSE))


def cover_join(key: str, part: Part, tab: str, cover: Towards, frame: Frame) -> Join:
    """Return the join of a cover tab onto the inside (reverse) of its board.

    Seen from outside, the front board's spine edge is at its left, the back
    board's at its right; the tab's far edge lies *on_board* from that edge.
    """
    box = part.panel(tab).bounds()
    side = next(zone.side for zone in part.zones if zone.panel == tab)
    reach, board = (frame.sizes.length(n).mm for n in ("cover_tab_on_board", "board_width"))
    far_is_left = box.left == 0
    far = box.left if far_is_left else box.right
    target = reach if cover is Towards.FRONT else board - reach
    sign = 1 if side is Side.FACE else -1
    motion = Motion(a=sign, dx=target - sign * far, dy=_rise(part, tab, frame))
    onto = (BOARD_KEYS[cover], "board", Side.REVERSE)
    return placed_join(key, part, tab, tab, motion, onto)


def _rise(part: Part, tab: str, frame: Frame) -> Number:
    """Return what brings a tab up to its board: the square, its page's foot at its own height."""
    return frame.sizes.length("square").mm - part.panel(tab).bounds().bottom
