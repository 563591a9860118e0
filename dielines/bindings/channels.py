"""Rooms and channels: how much folds and stands between two pages, and which half a page is in."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from ..lengths import ZERO, inches, millimetres
from .bound import Body, Towards
from .frame import Frame

TO_FIT = "to fit"


def front_count(count: int, frame: Frame) -> int:
    """Return how many of *count* pages are in the front half; a lone page always is."""
    half, rest = divmod(count, 2)
    return half if rest and frame.extra_page_in_back and count > 1 else half + rest


def half_of(number: int, count: int, frame: Frame) -> Towards:
    """Return the cover to whose half page *number* belongs."""
    return Towards.FRONT if number <= front_count(count, frame) else Towards.BACK


def find_channels(bodies: Sequence[Body], frame: Frame) -> None:
    """Find the rooms of flaps and pockets, the channels between pages and the end channels."""
    for body in bodies:
        for towards in Towards:
            room = body.room(towards)
            if room:
                name = _room_name(body, towards)
                frame.sizes.take(name, room, f"page {body.number}: {body.words}")
    for body, following in pairwise(bodies):
        _find_channel(frame, body, following)
    _find_end_channel(frame, bodies[0], Towards.FRONT)
    _find_end_channel(frame, bodies[-1], Towards.BACK)


def _room_name(body: Body, towards: Towards) -> str:
    return f"page_{body.number}_towards_{towards.value}"


def _find_channel(frame: Frame, body: Body, following: Body) -> None:
    """Find the channel behind *body*: what folds and stands in it, at least the usual one."""
    sizes, name = frame.sizes, f"channel_{body.number}"
    sides = [(body, Towards.BACK), (following, Towards.FRONT)]
    needs = [n for n in (_room_name(*side) for side in sides) if n in sizes]
    if needs:
        sizes.total(f"{name}_needs", needs)
    candidates = [f"{name}_needs"] if needs else []
    if _is_to_fit(frame):
        _fit(frame, name, candidates, sides)
    elif needs:
        sizes.largest(name, ["channel", *candidates])
    else:
        sizes.derive(name, "channel")


def _is_to_fit(frame: Frame) -> bool:
    return frame.usual.word("channel") == TO_FIT


def _fit(
    frame: Frame, name: str, candidates: list[str], sides: Sequence[tuple[Body, Towards]]
) -> None:
    """Find a channel to fit: what folds and stands in it, its contents, or the narrowest there is.

    The narrowest that can be scored is from memory.
    """
    sizes = frame.sizes
    contents = sum((body.contents_towards(cover) for body, cover in sides), ZERO)
    if contents:
        sizes.take(f"{name}_contents", contents, "what is put on the pages beside it")
        candidates = [*candidates, f"{name}_contents"]
    if "narrowest_channel" not in sizes:
        least = inches("1/16") if sizes.units == "in" else millimetres(2)
        sizes.take("narrowest_channel", least, "a narrower one cannot be scored")
    sizes.largest(name, [*candidates, "narrowest_channel"])


def _find_end_channel(frame: Frame, body: Body, towards: Towards) -> None:
    name, room = f"end_channel_{towards.value}", _room_name(body, towards)
    if frame.usual["end_channel"].length is not None:
        frame.sizes.derive(name, "end_channel")
    elif _is_to_fit(frame):
        _fit(frame, name, [room] if room in frame.sizes else [], [(body, towards)])
    elif room in frame.sizes:
        frame.sizes.derive(name, room, "the pocket stands in it")
    else:
        frame.sizes.derive(name, "channel", "nothing stands in it")


def channel_names(count: int) -> list[str]:
    """Return the names of all channels of a book of *count* pages, from front to back."""
    between = [f"channel_{number}" for number in range(1, count)]
    return ["end_channel_front", *between, "end_channel_back"]
