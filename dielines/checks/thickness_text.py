"""The two thicknesses of a closed book as lines for a terminal and as data for a program."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from ..book.book import Book
from ..folding.bends import NEUTRAL_AXIS
from ..folding.columns import TwoThicknesses
from ..folding.folded_book import FoldedBook
from ..folding.thickness import Thickness
from .right_sizes import fine
from .words import panel_words, part_words, shown

PLACES = (
    ("at the binding edge", "at_binding"),
    ("at the fore-edge, middle", "at_fore_edge"),
    ("at the fore-edge, thickest", "at_seams"),
    ("anywhere, thickest", "thickest"),
)


def thickness_lines(folded: FoldedBook) -> Iterator[str]:
    """Yield how thick the closed book is, upright and pressed, and how deep its pockets are."""
    book, thick = folded.book, folded.thickness
    yield f"Thickness between the boards {'upright':>15}{'pressed':>14}"
    for words, name in PLACES:
        both: TwoThicknesses = getattr(thick, name)
        yield f"  {words:<28}{shown(book, both.upright):>14}{shown(book, both.pressed):>14}"
    yield "  (Upright: channels and gussets stand open. Pressed: the materials alone.)"
    yield f"  The spine has room for {shown(book, thick.spine)}: {_play(book, thick)}."
    yield f"  {_gape(book, thick)}."
    yield from _pocket_lines(book, thick)
    yield from _bend_lines(book, thick)


def _play(book: Book, thick: Thickness) -> str:
    if thick.play < 0:
        return f"{shown(book, -thick.play)} too little"
    return f"{shown(book, thick.play)} of play"


def _gape(book: Book, thick: Thickness) -> str:
    if thick.gape > 0:
        return f"It gapes: pressed at the fore-edge, it is {shown(book, thick.gape)} thicker there than upright at the spine"
    return (
        f"It closes to a wedge: pressed at the fore-edge, it is {shown(book, -thick.gape)} thinner"
        " there than upright at the spine"
    )


def _pocket_lines(book: Book, thick: Thickness) -> Iterator[str]:
    """Yield the clear depth of each pocket, empty, face to face."""
    for depth in thick.pockets:
        seam = f", {fine(book, depth.under_seam)} under its seam"
        front = panel_words(book, depth.part, depth.panels.front)
        yield (
            f"  Pocket of {part_words(book, depth.part)} behind its {front}:"
            f" {fine(book, depth.clear)} clear{seam if depth.under_seam != depth.clear else ''}"
        )


def _bend_lines(book: Book, thick: Thickness) -> Iterator[str]:
    """Yield the most paper that a fold takes up; where the neutral axis lies is an assumption."""
    if thick.bends:
        most = max(thick.bends, key=lambda bend: bend.allowance)
        yield (
            f"  A fold takes up at most {fine(book, most.allowance)} of paper, at {part_words(book, most.part)};"
            f" sizes leave it out. (Assumed: stretched on the outside from {NEUTRAL_AXIS} of its thickness on.)"
        )


def thickness_data(thick: Thickness) -> dict[str, Any]:
    """Return the thicknesses in mm."""
    places = {name: _both(getattr(thick, name)) for _, name in PLACES}
    return {
        **places,
        "spine": thick.spine,
        "play": thick.play,
        "gape": thick.gape,
        "pockets": [
            {
                "part": depth.part,
                "front": depth.panels.front,
                "depth": depth.depth,
                "clear": depth.clear,
                "under_seam": depth.under_seam,
            }
            for depth in thick.pockets
        ],
        "walls": [
            {"part": wall.part, "panel": wall.panel, "width": wall.width, "needed": wall.needed}
            for wall in thick.walls
        ],
    }


def _both(both: TwoThicknesses) -> dict[str, float]:
    return {"upright": both.upright, "pressed": both.pressed}
