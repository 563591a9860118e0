"""A channel is far wider than what stands and lies in it."""

from __future__ import annotations

from collections.abc import Iterator

from ...folding.folded_book import FoldedBook
from ...folding.walls import Wall
from ...lengths import inches
from ..finding import Advice, Amount, Finding, Severity, Spot
from ..right_sizes import channel_setting, rounded_up
from ..words import panel_words, part_words, shown

#: What a channel may be wider than its contents: the widest usual one, 3/8 in, and a step (m).
ROOM = float(inches("7/16").mm)

NAME = "channel too wide"
WHY = (
    "A channel that is much wider than what stands and lies in it makes the spine thick for"
    " nothing, and the book closes to a wedge."
)
WORST = Severity.REMARK
SOURCE = f"geometry; that {ROOM:.1f} mm (7/16 in) of room are too much is from memory"


def check(folded: FoldedBook) -> Iterator[Finding]:
    """Yield every channel with more room than any use of it."""
    for wall in folded.thickness.walls:
        if wall.is_channel and wall.width - wall.wanted > ROOM:
            yield _finding(folded, wall, wall.wanted)


def _finding(folded: FoldedBook, wall: Wall, used: float) -> Finding:
    book = folded.book
    spare = wall.width - used
    usual = rounded_up(book, max(float(inches("1/4").mm), wall.needed))
    return Finding(
        Severity.REMARK,
        Spot(wall.part, wall.panel),
        f"the {panel_words(book, wall.part, wall.panel)} of {part_words(book, wall.part)} is"
        f" {shown(book, wall.width)} wide; what stands and lies in it takes {shown(book, used)}",
        f"make it up to {shown(book, spare)} narrower, or hold more there",
        Amount(spare),
        (Advice(channel_setting(folded.thickness, wall), usual),),
    )
