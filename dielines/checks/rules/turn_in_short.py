"""What is folded round the edge of a board does not reach the inside, or too little of it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from ...book.book import BookPart
from ...folding.case_places import BOARDS
from ...folding.folded_book import FoldedBook
from ..case_cover import covered_boards
from ..finding import Advice, Amount, Finding, Severity, Spot
from ..right_sizes import rounded_up
from ..words import part_words, shown
from ..wrap_corners import flaps_of

#: mm on the inside, below which a turn-in is too short to hold (m)
LEAST = 6.0
NEARLY = 0.01  #: mm

NAME = "turn-in short"
WHY = (
    "What is folded round the edge of a board first goes over the board's thickness: on the inside it is"
    f" shorter by that. With less than {LEAST:g} mm there it comes off."
)
WORST = Severity.ERROR
SOURCE = f"common practice: shorter by the board's thickness; {LEAST:g} mm from memory"

_SETTINGS = {"wrap": ("turn_in", 1), "edges": ("edge_strip", 2)}


class _TurnIn(NamedTuple):
    entry: BookPart
    panel: str
    where: str
    depth: float
    thick: float

    @property
    def inside(self) -> float:
        return self.depth - self.thick


def check(folded: FoldedBook) -> Iterator[Finding]:
    """Yield the shortest turn-in of each letter that reaches too little of the inside."""
    shortest: dict[str, _TurnIn] = {}
    for turn_in in (*_round_boards(folded), *_of_wraps(folded)):
        known = shortest.setdefault(turn_in.entry.letter, turn_in)
        if turn_in.inside < known.inside - NEARLY:
            shortest[turn_in.entry.letter] = turn_in
    for turn_in in shortest.values():
        if turn_in.inside < LEAST - NEARLY:
            yield _finding(folded, turn_in)


def _round_boards(folded: FoldedBook) -> Iterator[_TurnIn]:
    for board in covered_boards(folded):
        for turned in board.turned_in:
            where = f"at the {turned.edge.name} of the {board.entry.title}"
            covering = turned.covering
            yield _TurnIn(covering.entry, covering.panel, where, turned.depth, board.thick)


def _of_wraps(folded: FoldedBook) -> Iterator[_TurnIn]:
    boards = [float(e.stock.caliper.mm) for e in folded.book.parts if e.role == BOARDS]
    for entry in folded.book.parts:
        for flap in flaps_of(entry.part) if boards else ():
            where = f"at its {flap.panel.replace('_', '-').replace('turn-in', 'turn-in ')}"
            yield _TurnIn(entry, flap.panel, where, flap.depth, max(boards))


def _finding(folded: FoldedBook, turn_in: _TurnIn) -> Finding:
    book = folded.book
    inside, short = turn_in.inside, LEAST - turn_in.inside
    reach = (
        f"reaches {shown(book, inside)} onto the inside"
        if inside > 0
        else "does not reach the inside"
    )
    return Finding(
        Severity.WARNING if inside > 0 else Severity.ERROR,
        Spot(turn_in.entry.key, turn_in.panel),
        f"{part_words(book, turn_in.entry.key)} {reach} {turn_in.where}: of {shown(book, turn_in.depth)}"
        f" the board's edge takes {shown(book, turn_in.thick)}",
        f"let it be {shown(book, short)} longer there",
        Amount(short),
        _advice(folded, turn_in),
    )


def _advice(folded: FoldedBook, turn_in: _TurnIn) -> tuple[Advice, ...]:
    """Return the size of the book that makes it longer, where it is as that size has it."""
    book, entry = folded.book, turn_in.entry
    if entry.role not in _SETTINGS:
        return ()
    name, halves = _SETTINGS[entry.role]
    wanted, now = rounded_up(book, halves * (LEAST + turn_in.thick)), book.reasons.length(name)
    return (Advice(f"usual.{name}", wanted),) if wanted > now else ()
