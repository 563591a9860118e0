"""The joint is too narrow for the cover to open, too wide, or not alike on both sides."""

from __future__ import annotations

from collections.abc import Iterator

from ...bindings.bound import Towards
from ...folding.case_places import BACK, FRONT, Case
from ...folding.folded_book import FoldedBook
from ...lengths import Length, inches, millimetres
from ..finding import Advice, Amount, Finding, Severity, Spot
from ..right_sizes import NEAR, rounded_up
from ..words import shown

NAME = "joint"
WHY = (
    "The cover turns in its joint. Narrower than two boards are thick, it keeps the cover from"
    " opening flat and from closing square; much wider, it lets the cover sag."
)
WORST = Severity.ERROR
SOURCE = (
    "two board thicknesses: common practice, no source; what covers the joint lies in it as well:"
    " geometry; French joints of at least 1/8 in: Cockerell, Bookbinding (1901) p. 176, of 1/8 to"
    " 1/4 in: Etherington and Roberts dt1450; at most about 10 mm: from memory"
)

LEAST = inches("1/8")  #: Cockerell p. 176
WIDEST = millimetres(10)  #: (m)
ALIKE = 0.1  #: mm by which the joints of both covers may differ
BOARD_OF = {Towards.FRONT: FRONT, Towards.BACK: BACK}


def check(folded: FoldedBook) -> Iterator[Finding]:
    """Yield the joints that are too narrow, those that differ, and those that are unusual."""
    case = folded.assembly.case
    if case is None:
        return
    narrow = [f for t, joint in case.joints.items() for f in _too_narrow(folded, case, t, joint)]
    yield from narrow
    yield from _unlike(folded, case)
    if not narrow:
        yield from _unusual(folded, case)


def layers_in_joint(folded: FoldedBook) -> float:
    """Return how thick all is that covers a joint: wrap, its backing and the lining, with tape."""
    tape = float(folded.book.tape.thickness.mm)
    layers = 0.0
    for entry in folded.book.parts:
        is_backing = entry.role == "reinforcement" and "wrap" in entry.key
        if entry.role in ("wrap", "lining") or is_backing:
            layers += float(entry.stock.caliper.mm) + (tape if entry.role == "lining" else 0.0)
    return layers


def _too_narrow(
    folded: FoldedBook, case: Case, towards: Towards, joint: float
) -> Iterator[Finding]:
    """Yield an error under two boards; a warning where what covers the joint needs more."""
    book, key = folded.book, BOARD_OF[towards]
    boards = 2 * float(book.part(key).stock.caliper.mm)
    needed = boards + layers_in_joint(folded)
    if joint >= needed - NEAR:
        return
    is_error, right = joint < boards - NEAR, rounded_up(book, needed)
    least = f"two board thicknesses, {shown(book, boards)}"
    if not is_error:
        least += f", and what covers it, together {shown(book, needed)}"
    yield Finding(
        Severity.ERROR if is_error else Severity.WARNING,
        Spot(case.wrap, f"{towards.value}_joint"),
        f"the joint at the {book.part(key).title} is {shown(book, joint)} wide, narrower than {least}",
        f"make the joint {shown(book, right.mm)} wide, or take thinner boards",
        Amount((boards if is_error else needed) - joint),
        (Advice("usual.joint", right),),
    )


def _unlike(folded: FoldedBook, case: Case) -> Iterator[Finding]:
    front, back = case.joints[Towards.FRONT], case.joints[Towards.BACK]
    by = abs(front - back)
    if by > ALIKE:
        book = folded.book
        yield Finding(
            Severity.WARNING,
            Spot(case.wrap),
            f"the joint at the front board is {shown(book, front)} wide, at the back board"
            f" {shown(book, back)}: the covers do not close square on each other",
            f"set the boards {shown(book, by)} nearer to alike: a jig of one width does it",
            Amount(by),
        )


def _unusual(folded: FoldedBook, case: Case) -> Iterator[Finding]:
    """Yield a remark where a joint is outside of what handbooks and makers use."""
    book, joint = folded.book, max(case.joints.values())
    for limit, off, words in (
        (LEAST, float(LEAST.mm) - joint, "narrower than any joint of the handbooks, at least"),
        (WIDEST, joint - float(WIDEST.mm), "wider than joints usually are, at most"),
    ):
        if off > NEAR:
            yield Finding(
                Severity.REMARK,
                Spot(case.wrap),
                f"a joint of {shown(book, joint)} is {words} {shown(book, limit.mm)}",
                f"a joint {shown(book, off)} {'wider' if limit is LEAST else 'narrower'} is usual",
                Amount(off),
                (Advice("usual.joint", _within(folded, limit)),),
            )


def _within(folded: FoldedBook, limit: Length) -> Length:
    """Return the nearest usual joint that is a whole step of the book's units."""
    if limit is LEAST:
        return rounded_up(folded.book, float(limit.mm))
    return inches("3/8") if folded.book.units == "in" else limit
