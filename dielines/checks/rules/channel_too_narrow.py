"""A channel is narrower than what lies or stands in it."""

from __future__ import annotations

from collections.abc import Iterator

from ...folding.folded_book import FoldedBook
from ...folding.walls import Wall
from ..finding import Advice, Amount, Finding, Severity, Spot
from ..right_sizes import NEAR, channel_setting, fine, made, rounded_up
from ..words import panel_words, part_words

NAME = "channel too narrow"
WHY = (
    "Two pages lie as far apart at the spine as the channel between them is wide; layers and"
    " contents that need more push the fore-edge open, or pull the tabs off, and gussets that"
    " are wider together cannot stand."
)
WORST = Severity.ERROR
SOURCE = (
    "geometry: the longest path through the layers between the two sides of the channel; the sum"
    " of the gussets in it is common practice"
)


def check(folded: FoldedBook) -> Iterator[Finding]:
    """Yield every channel that is too narrow, with the width that all of its name need."""
    narrow = [w for w in folded.thickness.walls if w.is_channel and w.wanted > w.width + NEAR]
    most: dict[str, float] = {}
    for wall in narrow:
        setting = channel_setting(folded.thickness, wall)
        most[setting] = max(wall.wanted, most.get(setting, 0.0))
    for wall in narrow:
        setting = channel_setting(folded.thickness, wall)
        yield _finding(folded, wall, Advice(setting, rounded_up(folded.book, most[setting])))


def _finding(folded: FoldedBook, wall: Wall, advice: Advice) -> Finding:
    book, wanted = folded.book, wall.wanted
    is_paper = wall.needed_empty > wall.width + NEAR
    return Finding(
        Severity.ERROR if is_paper else Severity.WARNING,
        Spot(wall.part, wall.panel),
        f"the {panel_words(book, wall.part, wall.panel)} of {part_words(book, wall.part)} is"
        f" {fine(book, wall.width)} wide, but {_reason(wall)} {fine(book, wanted)}",
        f"{made(book, (advice,), 'wide', (wanted - wall.width, 'wider'))}{_or_less(wall)}",
        Amount(wanted - wall.width),
        (advice,),
    )


def _or_less(wall: Wall) -> str:
    """Return the other way out: there is one where contents ask for more than paper does."""
    is_paper = wall.needed_empty > wall.width + NEAR
    is_gussets = wall.standing > max(wall.needed, wall.width + NEAR)
    return "" if is_paper or is_gussets else ", or put less into the page"


def _reason(wall: Wall) -> str:
    """Return what asks for more than the channel's width: paper, gussets, or contents."""
    if wall.needed_empty > wall.width + NEAR:
        return "the layers of paper and tape in it need"
    if wall.standing > max(wall.needed, wall.width + NEAR):
        return "the gussets that stand in it take"
    return "what its page holds needs"
