"""Straight lines between two panels, as an edit names them."""

from __future__ import annotations

from dataclasses import dataclass

from ..documents import Refusal
from ..part import Line
from ..paths import Number, Point, distance
from .drafts import Draft, Flat
from .folding_keys import matches, parse_key

_TOWARDS_FIRST: dict[str, tuple[int, int]] = {"/": (0, 1), "|": (-1, 0)}


@dataclass(frozen=True, slots=True)
class StraightLine:
    """A line between two panels from its top or left end."""

    first: str
    second: str
    start: Point
    end: Point
    towards_first: tuple[int, int]  #: unit vector from the line into the first panel

    @property
    def length(self) -> Number:
        """Its length, mm."""
        return distance(self.start, self.end)


def line_named(draft: Draft, flat: Flat, text: str) -> StraightLine:
    """Return the untouched upright or level line called *text*; raises Refusal."""
    pattern = parse_key(text)
    found = [line for line in flat.lines if matches(pattern, line.key)]
    if len(found) != 1 or len(found[0].pieces) != 1 or found[0].key.relation == "-":
        for name in (pattern.first, pattern.second):
            draft.shape(name)
        raise Refusal("no-contact", f"'{text}' is not one straight line between two panels")
    return _straight(found[0])


def _straight(line: Line) -> StraightLine:
    ends = line.pieces[0].points
    start, end = sorted(ends, key=lambda p: (p.x, -p.y))
    key = line.key
    return StraightLine(key.first, key.second, start, end, _TOWARDS_FIRST[key.relation])
