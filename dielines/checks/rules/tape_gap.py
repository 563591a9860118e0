"""The widths of tape that there are leave a large part of a zone bare."""

from __future__ import annotations

from collections.abc import Iterator

from ...folding.folded_book import FoldedBook
from ...lengths import Length
from ...taping.strips import ZonePlan
from ..finding import Amount, Finding, Severity, Spot
from ..tape_plans import tape_plan_of
from ..words import and_places, panel_words, part_words, shown

SHARE = 0.25  #: of a zone, from which on it is worth a word (m)

NAME = "tape gap"
WHY = (
    "Strips side by side add up to the zone or leave a gap. Where a quarter of the zone stays bare, what it"
    " holds may come loose."
)
WORST = Severity.REMARK
SOURCE = f"geometry: the tape plan; {SHARE:.0%} from memory"


def check(folded: FoldedBook) -> Iterator[Finding]:
    """Yield zones of which much stays bare, those of one width and gap together."""
    found: dict[tuple[Length, Length], list[ZonePlan]] = {}
    for zone in tape_plan_of(folded).zones:
        if zone.strips and zone.bare_share > SHARE:
            found.setdefault((zone.room, zone.gap), []).append(zone)
    for zones in found.values():
        yield _finding(folded, zones)


def _finding(folded: FoldedBook, zones: list[ZonePlan]) -> Finding:
    book, zone = folded.book, max(zones, key=lambda z: z.bare_share)
    gap = shown(book, zone.gap.mm)
    return Finding(
        Severity.REMARK,
        Spot(zone.key, zone.panel),
        f"on the {panel_words(book, zone.key, zone.panel)} of {part_words(book, zone.key)} your widths of tape"
        f" leave {gap} of {shown(book, zone.room.mm)}: {zone.bare_share:.0%} of its tape is missing"
        f"{and_places(sum(len(z.titles) for z in zones))}",
        f"fill it with a strip of {gap}, bought or slit, or leave it where little pulls",
        Amount(zone.bare_share, "1"),
    )
