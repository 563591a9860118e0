"""The widths of tape that there are leave a large part of a zone bare."""

from __future__ import annotations

from collections.abc import Iterator

from ...folding.folded_book import FoldedBook
from ...taping.strips import ZonePlan
from ..finding import Amount, Finding, Severity, Spot
from ..tape_plans import tape_plan_of
from ..words import and_others, panel_words, part_words, shown

SHARE = 0.25  #: of a zone, from which on it is worth a word (m)

NAME = "tape gap"
WHY = (
    "Strips side by side add up to the zone or leave a gap. Where a quarter of the zone stays bare, what it"
    " holds may come loose."
)
WORST = Severity.REMARK
SOURCE = f"geometry: the tape plan; {SHARE:.0%} from memory"


def check(folded: FoldedBook) -> Iterator[Finding]:
    """Yield zones of which much stays bare."""
    for zone in tape_plan_of(folded).zones:
        if zone.strips and zone.bare_share > SHARE:
            yield _finding(folded, zone)


def _finding(folded: FoldedBook, zone: ZonePlan) -> Finding:
    book = folded.book
    gap = shown(book, zone.gap.mm)
    return Finding(
        Severity.REMARK,
        Spot(zone.key, zone.panel),
        f"on the {panel_words(book, zone.key, zone.panel)} of {part_words(book, zone.key)} your widths of tape"
        f" leave {gap} of {shown(book, zone.room.mm)}: {zone.bare_share:.0%} of the zone stay bare"
        f"{and_others(len(zone.titles))}",
        f"put a strip of {gap} beside it, if there is one to buy",
        Amount(zone.bare_share, "1"),
    )
