"""The spine is narrower than the pages that hang on it."""

from __future__ import annotations

from collections.abc import Iterator

from ...folding.folded_book import FoldedBook
from ..finding import Advice, Amount, Finding, Severity, Spot
from ..right_sizes import NEAR, rounded_up
from ..words import shown

NAME = "spine too narrow"
WHY = (
    "The spine holds the pages with their channels standing and needs some play; without it the"
    " channels are crushed and the covers do not lie parallel."
)
WORST = Severity.ERROR
SOURCE = (
    "geometry: channels and all that is glued between them, from board to board; an error where"
    " not even the pressed layers go in, a warning where no play is left"
)


def check(folded: FoldedBook) -> Iterator[Finding]:
    """Yield one finding where the spine has no play, with the width that gives the usual play."""
    book, thickness = folded.book, folded.thickness
    if not thickness.stack.boards or thickness.play >= -NEAR:
        return
    block, pressed = thickness.at_binding
    is_impossible = pressed > thickness.spine + NEAR
    right = rounded_up(book, thickness.right.spine)
    yield Finding(
        Severity.ERROR if is_impossible else Severity.WARNING,
        Spot(_spine_part(folded)),
        f"the spine is {shown(book, thickness.spine)} wide and leaves no play: with channels upright"
        f" its pages need {shown(book, block)}, pressed flat {shown(book, pressed)}",
        f"make the spine {shown(book, right.mm)} wide, or channels narrower",
        Amount(-thickness.play),
        (Advice("spine.width", right),),
    )


def _spine_part(folded: FoldedBook) -> str:
    """Return the board that stands between the others; empty where there is none."""
    boards = [entry.key for entry in folded.book.parts if entry.role == "boards"]
    return next((key for key in boards if not folded.thickness.stack.is_board(key)), "")
