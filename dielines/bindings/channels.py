"""Rooms and channels: how much folds and stands between two pages, and which half a page is in."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

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
    names = [_room_name(body, Towards.BACK), _room_name(following, Towards.FRONT)]
    needs = [name for name in names if name in frame.sizes]
    name = f"channel_{body.number}"
    sizes = frame.sizes
    if frame.usual.word("channel") == TO_FIT:
        contents = f"contents_{body.number}"
        sizes.take(
            contents, body.contents + following.contents, "what is put on the pages beside it"
        )
        need = " + ".join(needs) or "0 in"
        sizes.derive(name, f"max({need}, {contents}, {_least(frame)})", "to fit")
    elif needs:
        total = f"{name}_needs"
        sizes.total(total, needs)
        sizes.largest(name, ["channel", total])
    else:
        sizes.derive(name, "channel")


def _least(frame: Frame) -> str:
    """Return the narrowest channel that can still be scored (from memory), in the book's units."""
    return "1/16 in" if frame.sizes.units == "in" else "2 mm"


def _find_end_channel(frame: Frame, body: Body, towards: Towards) -> None:
    name, room = f"end_channel_{towards.value}", _room_name(body, towards)
    if frame.usual["end_channel"].length is not None:
        frame.sizes.derive(name, "end_channel")
    elif room in frame.sizes:
        frame.sizes.derive(name, room, "the pocket stands in it")
    elif frame.usual.word("channel") == TO_FIT:
        frame.sizes.derive(name, _least(frame), "to fit")
    else:
        frame.sizes.derive(name, "channel", "nothing stands in it")


def channel_names(count: int) -> list[str]:
    """Return the names of all channels of a book of *count* pages, from front to back."""
    between = [f"channel_{number}" for number in range(1, count)]
    return ["end_channel_front", *between, "end_channel_back"]
