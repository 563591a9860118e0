"""A channel is narrower than what lies in it."""

from __future__ import annotations

from collections.abc import Iterator

from ...folding.folded_book import FoldedBook
from ...folding.thickness import Wall
from ..finding import Advice, Amount, Finding, Severity, Spot
from ..right_sizes import NEAR, channel_setting, fine, rounded_up
from ..words import panel_words, part_words

NAME = "channel too narrow"
WHY = (
    "Two pages lie as far apart at the spine as the channel between them is wide; layers and"
    " contents that need more push the fore-edge open, or pull the tabs off."
)
WORST = Severity.ERROR
SOURCE = "geometry: the longest path through the layers between the two sides of the channel"


def check(folded: FoldedBook) -> Iterator[Finding]:
    """Yield every channel that is too narrow, with the width that all of its name need."""
    narrow = [w for w in folded.thickness.walls if w.is_channel and w.spare < -NEAR]
    most: dict[str, float] = {}
    for wall in narrow:
        setting = channel_setting(folded.thickness, wall)
        most[setting] = max(wall.needed, most.get(setting, 0.0))
    for wall in narrow:
        setting = channel_setting(folded.thickness, wall)
        yield _finding(folded, wall, Advice(setting, rounded_up(folded.book, most[setting])))


def _finding(folded: FoldedBook, wall: Wall, advice: Advice) -> Finding:
    book = folded.book
    is_paper = wall.needed_empty > wall.width + NEAR
    what = "the layers of paper and tape in it" if is_paper else "what its page holds"
    return Finding(
        Severity.ERROR if is_paper else Severity.WARNING,
        Spot(wall.part, wall.panel),
        f"the {panel_words(book, wall.part, wall.panel)} of {part_words(book, wall.part)} is"
        f" {fine(book, wall.width)} wide, but {what} need{'' if is_paper else 's'}"
        f" {fine(book, wall.needed)}",
        f"make it {fine(book, -wall.spare)} wider, or put less into it",
        Amount(-wall.spare),
        (advice,),
    )
