"""What has to be cut before what: stages, each of which may be cut in any order.

What holds a sheet together is cut last. So all lines inside parts come first,
then the outlines, small ones before large ones (common practice: a small piece
slips most easily on a sheet that has lost its hold). An opening in which other
parts lie waits for these, and its own outline waits for it.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import NamedTuple

from ..drawing import Item, Layer
from .nesting import Contour, holders

#: The layers in the order in which they are worked. The paper is drawn on while it
#: is flat and whole, and what is scored or perforated is so before it is cut out.
ORDER = (
    Layer.LABEL,
    Layer.MARK,
    Layer.TAPE_REVERSE,
    Layer.TAPE_FACE,
    Layer.SCORE_MOUNTAIN,
    Layer.SCORE_VALLEY,
    Layer.PERFORATE,
    Layer.CUT,
)

#: Areas, mm2, from which on a contour counts as one of the next size: squares of about
#: 2 3/4 and 5 1/2 in. Common practice is "small before large"; the figures have no source.
SIZES = (5_000.0, 20_000.0)


class Stage(NamedTuple):
    """When a path is cut.

    *step* is 0 for lines inside parts, then 1, 2, ... for outlines of growing size;
    *rank* puts small openings before large ones, and parts before what they lie in.
    """

    step: int
    rank: int


def size_of(area: float) -> int:
    """Return the size that counts for the order: 0 small, then larger."""
    return sum(area >= border for border in SIZES)


def stages(items: Sequence[Item]) -> list[list[int]]:
    """Return the indices of *items*, all on CUT, stage by stage; a stage has no order of its own.

    Open lines count as lines inside parts.
    """
    closed = [i for i, item in enumerate(items) if item.path.closed and item.path.vertices]
    stage_of = dict.fromkeys(range(len(items)), Stage(0, 0))
    found = contour_stages([Contour(items[i].path) for i in closed])
    stage_of.update(zip(closed, found, strict=True))
    return [
        [i for i in stage_of if stage_of[i] == stage] for stage in sorted(set(stage_of.values()))
    ]


def contour_stages(contours: Sequence[Contour]) -> list[Stage]:
    """Return the stage of each contour.

    A contour within an even number of others is an outline, else an opening.
    """
    held_by = holders(contours)
    inside = _inside(held_by)
    found: dict[int, Stage] = {}
    for i in sorted(range(len(contours)), key=lambda i: (contours[i].area, i)):
        size = size_of(contours[i].area)
        is_outline = len(held_by[i]) % 2 == 0
        own = Stage(1 + size, 0) if is_outline else Stage(0, size)
        found[i] = max([own, *_after(found[j] for j in inside[i])])
    return [found[i] for i in range(len(contours))]


def _inside(held_by: Sequence[Sequence[int]]) -> list[list[int]]:
    """Return for each contour the indices of all that lie inside."""
    inside: list[list[int]] = [[] for _ in held_by]
    for i, those in enumerate(held_by):
        for j in those:
            inside[j].append(i)
    return inside


def _after(earlier: Iterable[Stage]) -> list[Stage]:
    """Return the stage right after the last one of *earlier*, if there is any."""
    last = max(earlier, default=None)
    return [] if last is None else [Stage(last.step, last.rank + 1)]
