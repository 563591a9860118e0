"""The tape plan of a book: for each zone of each letter the strips that fill it."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from fractions import Fraction

from ..book.book import Book, BookPart
from ..lengths import Length
from ..part import Panel, Zone
from .filling import fewest_possible, filling
from .slices import Filled, filled, lies_of
from .strips import TapePlan, Way, ZonePlan
from .totals import totals_of

GLUE = frozenset({"glue", "bead"})  #: names of zones for a bead of glue, which take no tape


def tape_plan(book: Book) -> TapePlan:
    """Return the tape plan of *book*, for all copies and spares."""
    by_letter: dict[str, list[BookPart]] = {}
    for entry in book.parts:
        by_letter.setdefault(entry.letter, []).append(entry)
    zones = tuple(plan for alike in by_letter.values() for plan in _letter_plans(book, alike))
    return TapePlan(book.tape.name, zones, totals_of(zones, book.tape))


def _letter_plans(book: Book, alike: Sequence[BookPart]) -> Iterator[ZonePlan]:
    widths = tuple(width.mm for width in book.tape.widths)
    number = book.request.copies * (len(alike) + book.request.spares)
    first = alike[0]
    for zone in first.part.zones:
        if zone.name not in GLUE:
            best = strips_for(zone, first.part.panel(zone.panel), widths)
            yield ZonePlan(
                letter=first.letter,
                titles=tuple(entry.title for entry in alike),
                key=first.key,
                panel=zone.panel,
                side=zone.side,
                zone=zone.name,
                number=number,
                way=best.lie.way,
                room=Length(best.lie.room),
                extent=Length(best.lie.extent),
                area=best.area,
                strips=best.strips,
            )


def strips_for(zone: Zone, panel: Panel, widths: Sequence[Fraction]) -> Filled:
    """Return the strips that fill *zone*, laid the way that takes the fewest, then leaves the least.

    They run along the longer side of the zone; the other way only where each strip
    is at least as long as it is wide.
    """
    lies = lies_of(zone)
    longer = Way.UP if lies[0].extent >= lies[0].room else Way.ACROSS
    usual = next(lie for lie in lies if lie.way is longer)
    best = filled(zone, panel, usual, filling(usual.room, widths))
    for lie in lies:
        if lie is not usual and 0 < fewest_possible(lie.room, widths) <= _most(best):
            other = filled(zone, panel, lie, filling(lie.room, widths))
            if other.strips and _are_long(other):
                best = min(best, other, key=_rank)
    return best


def _most(best: Filled) -> float:
    return len(best.strips) or math.inf


def _rank(way: Filled) -> tuple[float, Fraction]:
    return _most(way), way.bare


def _are_long(way: Filled) -> bool:
    return all(strip.length >= strip.width for strip in way.strips)
