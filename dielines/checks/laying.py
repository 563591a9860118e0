"""How what covers a board lies on it: the motion from its flat part onto the board.

A join says where tape comes to lie, not which way up; where tape looks alike when it
is turned, the turned-in zones of the same part tell.
"""

from __future__ import annotations

from dataclasses import replace

from ..bindings.bound import Join
from ..book.book import Book, BookPart
from ..folding.case_places import COVERING
from ..part import Side, Zone
from ..part_motion import Motion
from ..paths import Bounds, Point, bounds_of

#: Rows of the turns by 0, 180, 90 and 270 degrees; the likeliest first.
_TURNS = ((1, 0, 0, 1), (-1, 0, 0, -1), (0, -1, 1, 0), (0, 1, -1, 0))


def joins_onto(book: Book, board: str) -> list[Join]:
    """Return the joins of all that covers a board, outside and inside."""
    return [j for j in book.joins if j.onto_part == board and book.part(j.part).role in COVERING]


def zone_named(entry: BookPart, name: str) -> Zone:
    """Return a zone of a part by its name."""
    return next(zone for zone in entry.part.zones if zone.name == name)


def likeliest(book: Book, join: Join, board: BookPart) -> Motion:
    """Return the motion onto a board by which the turned-in zones of the part come out best."""
    entry = book.part(join.part)
    inner = [
        (bounds_of([zone_named(entry, other.zone).path]), other)
        for other in joins_onto(book, board.key)
        if other.part == join.part and other.onto_side is Side.REVERSE
    ]
    frame = bounds_of(board.part.outline[:1])
    motions = motions_of(join, entry)
    return min(motions, key=lambda m: sum(_miss(m, zone, other, frame) for zone, other in inner))


def motions_of(join: Join, entry: BookPart) -> list[Motion]:
    """Return the motions by which a zone may have come to lie where its join says.

    Like sides lie turned over on each other, opposite sides do not. Which of them it
    is, a zone that looks alike when it is turned does not tell.
    """
    zone = bounds_of([zone_named(entry, join.zone).path])
    is_turned = abs(float(join.width - zone.width)) > abs(float(join.width - zone.height))
    turns = _TURNS[2:] if is_turned else _TURNS[:2]
    mirrors = -1 if join.side is join.onto_side else 1
    return [_centred(Motion(mirrors * a, mirrors * b, c, d), zone, join) for a, b, c, d in turns]


def _centred(motion: Motion, zone: Bounds, join: Join) -> Motion:
    middle = motion.place(Point((zone.left + zone.right) / 2, (zone.bottom + zone.top) / 2))
    (x, y), (width, height) = join.offset, (join.width, join.height)
    return replace(motion, dx=x + width / 2 - middle.x, dy=y + height / 2 - middle.y)


def _miss(motion: Motion, zone: Bounds, join: Join, frame: Bounds) -> float:
    """Return by how much a zone, folded in at its nearest edge, misses where its join has it."""
    corners = [
        motion.place(p) for p in (Point(zone.left, zone.bottom), Point(zone.right, zone.top))
    ]
    box = [sorted(float(c[i]) for c in corners) for i in (0, 1)]
    place = [float(join.offset.x + join.width / 2), float(join.offset.y + join.height / 2)]
    misses = []
    for i, (low, high) in enumerate(((frame.left, frame.right), (frame.bottom, frame.top))):
        beside = max(box[1 - i][0] - place[1 - i], place[1 - i] - box[1 - i][1], 0.0)
        middle = sum(box[i]) / 2
        misses += [abs(2 * float(edge) - place[i] - middle) + beside for edge in (low, high)]
    return min(misses)
