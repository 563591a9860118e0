"""A gusset is narrower than what lies between its two panels."""

from __future__ import annotations

from collections.abc import Iterator

from ...book.join_words import listed
from ...folding.folded_book import FoldedBook
from ...folding.walls import Wall
from ..finding import Amount, Finding, Severity, Spot
from ..right_sizes import NEAR, fine, made, wall_advice
from ..words import panel_words, part_words
from .contents_do_not_fit import depth_for_contents

NAME = "gusset too narrow"
WHY = (
    "A pocket or a flap closes flat only when its gusset is at least as wide as the layers and"
    " contents between its two panels; else it bulges, or its seam comes loose."
)
WORST = Severity.ERROR
SOURCE = "geometry: the longest path through the layers between the two panels of the gusset"


def check(folded: FoldedBook) -> Iterator[Finding]:
    """Yield every gusset that is too narrow; on one page those that are short alike together."""
    found: dict[tuple[str, int], list[Wall]] = {}
    for wall in folded.thickness.walls:
        if not wall.is_channel and wall.spare < -NEAR:
            found.setdefault((wall.part, round(wall.spare / NEAR)), []).append(wall)
    for walls in found.values():
        most = max(w.needed for w in folded.thickness.walls if _is_like(w, walls[0]))
        yield _finding(folded, walls, max(most, depth_for_contents(folded, walls[0])))


def _is_like(wall: Wall, other: Wall) -> bool:
    """Return whether one size of a page most likely sets the width of two of its gussets."""
    is_same_part = wall.part == other.part and not wall.is_channel
    return is_same_part and abs(wall.width - other.width) < NEAR


def _finding(folded: FoldedBook, walls: list[Wall], most: float) -> Finding:
    book, wall = folded.book, walls[0]
    is_paper = wall.needed_empty > wall.width + NEAR
    what = "paper and tape between its panels need" if is_paper else "what its page holds needs"
    names = listed([_gusset_words(panel_words(book, w.part, w.panel)) for w in walls])
    verb = "is" if len(walls) == 1 else "are"
    advice = wall_advice(book, wall, most)
    return Finding(
        Severity.ERROR if is_paper else Severity.WARNING,
        Spot(wall.part, wall.panel),
        f"the {names} of {part_words(book, wall.part)} {verb} {fine(book, wall.width)} wide, but"
        f" {what} {fine(book, wall.needed)}",
        made(book, advice, "wide", (-wall.spare, "wider"))
        + ("" if is_paper else ", or put less in"),
        Amount(-wall.spare),
        advice,
    )


def _gusset_words(panel: str) -> str:
    """Return what a gusset is called, that is often named by its place alone.

    >>> _gusset_words("tail"), _gusset_words("inner gusset")
    ('gusset at the tail', 'inner gusset')
    """
    is_place = panel in ("head", "tail", "side", "foot", "fore edge", "fore-edge", "left", "right")
    return f"gusset at the {panel}" if is_place else panel
