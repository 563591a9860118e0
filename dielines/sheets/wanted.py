"""What is to be cut from each stock: kinds of part by letter, and how many."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from ..book.book import Book, BookPart
from ..book.cut_list import merged_titles
from ..book.sheets_fit import part_grain, part_size
from ..lengths import Length
from ..packing.order import Box
from ..part import Part
from ..workshop.sizes import Size
from ..workshop.stock import Stock
from .scale import Scale


@dataclass(frozen=True)
class Wanted:
    """Parts that are cut alike.

    *quarters* is how many quarter turns bring the grain of the part, as it is drawn,
    to where it runs on a sheet that lies with its grain up. *may_turn*: it may as well
    lie turned by one more.
    """

    letter: str
    title: str  #: of all parts with this letter
    role: str
    part: Part
    size: Size  #: after these turns
    count: int
    quarters: int
    may_turn: bool
    may_stand_on_its_head: bool

    def box(self, scale: Scale, gap: Length) -> Box:
        """Return its box in units of *scale*, with the *gap* added."""
        across, up = (scale.up(side + gap) for side in self.size)
        return Box(across, up, self.may_turn)


def wanted_from(book: Book, stock: Stock) -> tuple[Wanted, ...]:
    """Return what all copies of *book* and their spares need of *stock*, by letter."""
    by_letter: dict[str, list[BookPart]] = {}
    for entry in book.parts:
        if entry.stock.name == stock.name:
            by_letter.setdefault(entry.letter, []).append(entry)
    copies, spares = book.request.copies, book.request.spares
    return tuple(
        _wanted(entries, copies * (len(entries) + spares), stock) for entries in by_letter.values()
    )


def stocks_of(book: Book) -> tuple[Stock, ...]:
    """Return the stocks of which *book* has parts, in order of first appearance."""
    return tuple({entry.stock.name: entry.stock for entry in book.parts}.values())


def _wanted(entries: Sequence[BookPart], count: int, stock: Stock) -> Wanted:
    first = entries[0]
    grain, size = part_grain(first.part), part_size(first)
    turns = grain == "across" and not stock.keeps_upright
    return Wanted(
        first.letter,
        "; ".join(merged_titles([entry.title for entry in entries])),
        first.role,
        first.part,
        size.turned if turns else size,
        count,
        1 if turns else 0,
        grain == "free" and not stock.keeps_upright,
        not stock.is_one_way_up,
    )
