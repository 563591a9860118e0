"""The hand is likely to make something stick out or miss that fits as drawn."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from ...book.book import Book
from ...folding.folded_book import FoldedBook
from ...tolerance.clearance import Clearance, Fault
from ...tolerance.clearances import clearances_of
from ...tolerance.closed_form import chance_of, room_needed
from ...tolerance.remedies import FEW, Larger, enlarged
from ...workshop.hand_tools import HandErrors
from ..finding import Advice, Amount, Finding, Severity, Spot
from ..words import shown

MANY = 1 / 3  #: the share of books from which a fault disappoints; a choice, no source

NAME = "likely to miss"
WHY = (
    "No hand cuts, scores and tapes exactly, and in a book the errors add up; what fits as drawn fails"
    f" in some of the books that are made: a remark where that is more than {100 * FEW:.0f} of 100."
)
WORST = Severity.WARNING
SOURCE = (
    "geometry: the variance of a sum of independent errors; their size is an assumption, in the"
    f" workshop file; the limits {FEW:.0%} and {MANY:.0%} are a choice, no source"
)
SIZES: Mapping[Fault, str] = {
    Fault.FORE_EDGE: "the boards' allowance at the fore-edge",
    Fault.HEAD_OR_TAIL: "the square",
    Fault.SPINE: "the spine",
    Fault.TAPE: "the margin beside the tape",
}
ELSE: Mapping[Fault, str] = {
    Fault.FORE_EDGE: "align every page to the first or to a jig",
    Fault.HEAD_OR_TAIL: "align every page to the first or to a jig",
    Fault.SPINE: "score with a jig",
    Fault.TAPE: "lay the tape by marks",
}


def check(folded: FoldedBook) -> Iterator[Finding]:
    """Yield one finding for each kind of fault that too many books would have."""
    hand = folded.workshop.hand
    by_fault: dict[Fault, list[Clearance]] = {}
    for row in clearances_of(folded):
        if row.nominal > 0:  # what fails as drawn is told by other rules
            by_fault.setdefault(row.fault, []).append(row)
    for fault, rows in by_fault.items():
        chance = chance_of(rows, hand)
        if chance > FEW:
            yield _finding(folded.book, hand, fault, rows, chance)


def _finding(
    book: Book, hand: HandErrors, fault: Fault, rows: Sequence[Clearance], chance: float
) -> Finding:
    worst = max(rows, key=lambda row: row.chance(hand))
    larger = enlarged(book, fault, room_needed(rows, hand, FEW))
    advice = (Advice(larger.setting, larger.value),) if larger else ()
    return Finding(
        Severity.WARNING if chance > MANY else Severity.REMARK,
        Spot(worst.part, worst.panel),
        f"in {100 * chance:.0f} of 100 books {fault.value}: as drawn there is"
        f" {shown(book, worst.nominal)} of room, and in one book of three the hand is off by more"
        f" than {shown(book, worst.deviation(hand))}",
        _remedy(book, fault, larger),
        Amount(chance, "1"),
        advice,
    )


def _remedy(book: Book, fault: Fault, larger: Larger | None) -> str:
    if larger is None:
        return ELSE[fault]
    return f"make {SIZES[fault]} {shown(book, larger.by.mm)} larger, or {ELSE[fault]}"
