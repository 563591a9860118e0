"""A zone of tape is narrower than any tape that the person owns."""

from __future__ import annotations

from collections.abc import Iterator

from ...folding.folded_book import FoldedBook
from ...lengths import Length
from ...taping.strips import ZonePlan
from ..finding import Amount, Finding, Severity, Spot
from ..tape_plans import tape_plan_of
from ..words import and_places, panel_words, part_words, shown

NAME = "tape width unknown"
WHY = "Each zone of tape has to be filled with tape of a width that exists: wider tape would stick out at its sides."
WORST = Severity.WARNING
SOURCE = "geometry: the widths of the tape in the workshop file"


def check(folded: FoldedBook) -> Iterator[Finding]:
    """Yield each width for which no tape is narrow enough, the narrowest first."""
    found: dict[Length, list[ZonePlan]] = {}
    for zone in tape_plan_of(folded).unfilled:
        found.setdefault(min(zone.room, zone.extent), []).append(zone)
    for room in sorted(found):
        yield _finding(folded, found[room])


def _finding(folded: FoldedBook, zones: list[ZonePlan]) -> Finding:
    book, zone = folded.book, zones[0]
    room = min(zone.room, zone.extent)
    narrowest = min(book.tape.widths)
    return Finding(
        Severity.WARNING,
        Spot(zone.key, zone.panel),
        f"the tape on the {panel_words(book, zone.key, zone.panel)} of {part_words(book, zone.key)} is"
        f" {shown(book, room.mm)} wide{and_places(sum(len(z.titles) for z in zones))}; the narrowest"
        f" {book.tape.name} that you have is {shown(book, narrowest.mm)}",
        f"get tape of at most {shown(book, room.mm)} and list it as a roll in the workshop file, or slit a strip",
        Amount(narrowest.mm - room.mm),
    )
