"""What is done on a flat part, as one does it by hand: each score, notch, hole, window, slit."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import Enum
from itertools import chain

from ..drawing import Item, Layer
from ..lengths import ZERO, Length
from ..part import LineKind, Part, Purpose, exact_length
from ..part_drawing import scores_of
from ..paths import Bounds, Path, bounds_of, segment_length
from .outlines import Detail, notches_of, roundings_of
from .spans import Span, measured, spans


class Work(Enum):
    """What is done; the value names it for people."""

    VALLEY = "valley score"
    MOUNTAIN = "mountain score"
    PERFORATION = "perforation"
    SLIT = "slit"
    NOTCH = "notch"
    ROUND_CORNER = "round corner"
    HOLE = "hole"
    WINDOW = "window"


class Way(Enum):
    """How a line runs on the part."""

    UPRIGHT = "upright"
    LEVEL = "level"
    OBLIQUE = "oblique"
    CURVED = "curved"
    NONE = ""  #: it is no line


_OF_LAYER = {
    Layer.SCORE_VALLEY: Work.VALLEY,
    Layer.SCORE_MOUNTAIN: Work.MOUNTAIN,
    Layer.PERFORATE: Work.PERFORATION,
}


@dataclass(frozen=True, slots=True)
class Workline:
    """One thing that is done, and where, on the part as it lies face up.

    *detail* says the rest in words: the style of a notch, the corner that is round.
    """

    work: Work
    way: Way
    across: Span
    up: Span
    detail: str = ""
    name: str = ""  #: the panels that a line parts
    edge: str = ""  #: the side of the part that a notch opens to
    diameter: Length = ZERO  #: of the circle of a round notch
    beyond: Length = ZERO  #: how far outside of its edge the middle of that circle lies


def worklines(part: Part) -> tuple[Workline, ...]:
    """Return all that is done on *part* inside its outline, and the notches in that."""
    page = bounds_of(part.outline[:1])
    lines = [
        *_lines(scores_of(part), page),
        *_slits(part, page),
        *(_opening(ring, page) for ring in part.outline[1:]),
        *(_notch(notch, page) for notch in notches_of(part.outline[0])),
        *(_round_corner(arc, page) for arc in roundings_of(part.outline[0])),
    ]
    return tuple(sorted(lines, key=_order))


def _order(line: Workline) -> tuple[object, ...]:
    works = list(Work)
    ways = list(Way)
    return (
        works.index(line.work) > works.index(Work.PERFORATION),
        ways.index(line.way),
        line.up.near if line.way is Way.LEVEL else line.across.near,
        line.across.near if line.way is Way.LEVEL else line.up.near,
        works.index(line.work),
        line.name,
    )


def _lines(items: Sequence[Item], page: Bounds) -> Iterator[Workline]:
    for item in items:
        yield _line(_OF_LAYER[item.layer], item.path, item.name, page)


def _line(work: Work, path: Path, name: str, page: Bounds) -> Workline:
    return Workline(work, way_of(path), *spans(bounds_of([path]), page), name=name)


def way_of(path: Path) -> Way:
    """Return how an open path runs."""
    if any(vertex.bulge for vertex in path.vertices):
        return Way.CURVED
    box = bounds_of([path])
    if exact_length(box.width) == ZERO:
        return Way.UPRIGHT
    return Way.LEVEL if exact_length(box.height) == ZERO else Way.OBLIQUE


def _slits(part: Part, page: Bounds) -> Iterator[Workline]:
    pieces = chain.from_iterable(
        ((piece, str(line.key)) for piece in line.pieces)
        for line in part.lines
        if line.kind is LineKind.SLIT
    )
    strokes = ((s.path, s.name) for s in part.strokes if s.purpose is Purpose.CUT)
    for path, name in chain(pieces, strokes):
        yield _opening(path, page, name) if path.closed else _line(Work.SLIT, path, name, page)


def _opening(ring: Path, page: Bounds, name: str = "") -> Workline:
    """Return a round hole, or a window of any shape by the rectangle around it."""
    box = bounds_of([ring])
    is_round = _is_circle(ring, box)
    work = Work.HOLE if is_round else Work.WINDOW
    detail = "" if is_round or len(ring.vertices) == 4 else "shaped, see the guide"
    return Workline(work, Way.NONE, *spans(box, page), detail, name)


def _is_circle(ring: Path, box: Bounds) -> bool:
    around = sum(segment_length(segment) for segment in ring.segments())
    return all(vertex.bulge for vertex in ring.vertices) and (
        math.isclose(around, math.pi * float(box.width), abs_tol=1e-3)
        and math.isclose(box.width, box.height, abs_tol=1e-3)
    )


def _notch(notch: Detail, page: Bounds) -> Workline:
    return Workline(
        Work.NOTCH,
        Way.NONE,
        *spans(notch.box, page),
        notch.style,
        edge=notch.where,
        diameter=measured(notch.diameter),
        beyond=measured(notch.beyond),
    )


def _round_corner(arc: Detail, page: Bounds) -> Workline:
    return Workline(Work.ROUND_CORNER, Way.NONE, *spans(arc.box, page), arc.where)
