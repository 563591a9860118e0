"""A pocket has less depth than it was scored with, or none that is of use."""

from __future__ import annotations

from collections.abc import Iterator

from ...folding.folded_book import FoldedBook
from ...folding.thickness import PocketDepth
from ..finding import Advice, Amount, Finding, Severity, Spot
from ..right_sizes import NEAR, deeper_advice, fine, made, rounded_up
from ..words import panel_words, part_words, shown

NAME = "pocket too shallow"
WHY = (
    "Of the depth that a pocket is scored with, its own paper and seam take some, and what lies"
    " over its back, as the cover tab of an end page does, takes more; the rest holds things."
)
WORST = Severity.WARNING
SOURCE = "geometry: heights of the layers in the upright book; a remark unless no sheet goes in"


def check(folded: FoldedBook) -> Iterator[Finding]:
    """Yield pockets that hold no sheet of their own paper, or whose back is pushed in."""
    for pocket in folded.thickness.pockets:
        if pocket.depth <= NEAR:
            continue
        paper = folded.thickness.stack.levels[pocket.part, pocket.panels.front].caliper
        lost = pocket.depth - paper - pocket.clear
        if pocket.under_seam < paper - NEAR:
            yield _useless(folded, pocket, paper)
        elif lost > NEAR:
            yield _pushed_in(folded, pocket, lost)


def _useless(folded: FoldedBook, pocket: PocketDepth, paper: float) -> Finding:
    book, lacking = folded.book, paper - pocket.under_seam
    # Where paper alone does not fit, the layers press: what is missing is not all that it lacks.
    walls = [w for w in folded.thickness.walls if _is_beside(w.part, w.width, pocket)]
    needed = max((wall.needed_empty for wall in walls), default=pocket.depth)
    right = max(needed, pocket.depth - pocket.under_seam) + paper
    advice = _advice(folded, pocket, right)
    return Finding(
        Severity.WARNING,
        Spot(pocket.part, pocket.panels.front),
        f"{_words(folded, pocket)} is {fine(book, pocket.depth)} deep, but only"
        f" {fine(book, pocket.under_seam)} clear where it is shallowest, less than a sheet of its"
        " own paper",
        made(book, advice, "deep", (right - pocket.depth, "deeper")),
        Amount(lacking),
        advice,
    )


def _pushed_in(folded: FoldedBook, pocket: PocketDepth, lost: float) -> Finding:
    book = folded.book
    under = f", {fine(book, pocket.under_seam)} under its seam" if pocket.panels.seams else ""
    return Finding(
        Severity.REMARK,
        Spot(pocket.part, pocket.panels.back),
        f"{_words(folded, pocket)} is scored {fine(book, pocket.depth)} deep and has"
        f" {fine(book, pocket.clear)} of room{under}: what lies on and over its back"
        f" takes {fine(book, lost)}",
        "nothing to change as long as what it holds goes in; for the whole depth make it"
        f" {shown(book, rounded_up(book, pocket.depth + lost).mm)} deep",
        Amount(lost),
    )


def _is_beside(part: str, width: float, pocket: PocketDepth) -> bool:
    return part == pocket.part and abs(width - pocket.depth) < NEAR


def _advice(folded: FoldedBook, pocket: PocketDepth, right: float) -> tuple[Advice, ...]:
    walls = [w for w in folded.thickness.walls if _is_beside(w.part, w.width, pocket)]
    return deeper_advice(folded.book, folded.thickness, walls[0], right) if walls else ()


def _words(folded: FoldedBook, pocket: PocketDepth) -> str:
    book, panels = folded.book, pocket.panels
    front = panel_words(book, pocket.part, panels.front)
    return f"the pocket of {part_words(book, pocket.part)} behind its {front}"
