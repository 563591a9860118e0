"""Which size gives more room where the hand needs it."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction

from ..book.book import Book
from ..lengths import Length, inches, millimetres
from .clearance import Fault

FEW = 0.05  #: the share of books with a fault that is accepted; a choice, no source


@dataclass(frozen=True, slots=True)
class Size:
    """A size of the book, how it is set, and by how much it grows for 1 mm more room."""

    name: str
    setting: str
    for_each: int


SIZE_OF: Mapping[Fault, Size] = {
    Fault.FORE_EDGE: Size("fore_edge", "usual.fore_edge", 1),
    Fault.HEAD_OR_TAIL: Size("square", "usual.square", 1),
    Fault.SPINE: Size("spine", "spine.width", 1),
    Fault.TAPE: Size("tape_margin", "usual.tape_margin", 2),
}

#: what has tape over its whole width, and by how much that is divided for the widest margin
TAPED: Mapping[str, int] = {"hinge_tab": 2, "seam_tab": 2, "cover_tab": 2, "edge_strip": 8}

#: What sizes are rounded up to: as fine as one still cuts.
STEPS = {"in": inches(Fraction(1, 32)), "mm": millimetres("0.5")}


@dataclass(frozen=True, slots=True)
class Larger:
    """A size as it is to be set, and how much that adds to it."""

    setting: str
    value: Length
    by: Length


def enlarged(book: Book, fault: Fault, room: float) -> Larger | None:
    """Return the size that gives *room* (mm) more where this fault is, None where no size does.

    Rounded up to what one can measure. Templates bound the margin of tape, so that it
    keeps enough of every tab and edge strip.
    """
    size = SIZE_OF[fault]
    if size.name not in book.reasons.by_name:
        return None
    now = book.reasons.length(size.name)
    step = STEPS[book.units]
    wanted = float(now.mm) + room * size.for_each
    value = step * math.ceil(wanted / float(step.mm) - 1e-9)
    if fault is Fault.TAPE and value > _widest_margin(book):
        return None
    return Larger(size.setting, value, value - now)


def _widest_margin(book: Book) -> Length:
    """Return the most that templates take for the margin of tape, on both sides together."""
    sizes = book.reasons
    known = [(name, parts) for name, parts in TAPED.items() if name in sizes.by_name]
    return min(sizes.length(name) / parts for name, parts in known)
