"""What is to be placed, on what, and what came of it: the nouns of this room.

All lengths are whole units; what a unit is, the caller knows. The gap between
parts is in them already: each box and each sheet is larger by one gap, so that
boxes may touch.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from enum import Enum
from typing import NamedTuple


class Box(NamedTuple):
    """A rectangle to be placed; *may_turn* by a quarter."""

    width: int
    height: int
    may_turn: bool = False

    @property
    def area(self) -> int:
        """Square units."""
        return self.width * self.height

    def lying(self, quarters: int) -> tuple[int, int]:
        """Return width and height after so many quarter turns.

        >>> Box(3, 5, True).lying(1), Box(3, 5).lying(2)
        ((5, 3), (3, 5))
        """
        return (self.height, self.width) if quarters % 2 else (self.width, self.height)


class Bed(NamedTuple):
    """A sheet to place boxes on: what can be used of it, its price, and how many there are.

    *price* is a whole number of any unit of money, or 1 where sheets are only counted.
    *turns_all*: the sheet has no grain, so that every box may turn on it.
    """

    width: int
    height: int
    price: int = 1
    at_most: int | None = None  #: None: as many as are wanted
    turns_all: bool = False

    @property
    def area(self) -> int:
        """Square units."""
        return self.width * self.height


@dataclass(frozen=True)
class Order:
    """Kinds of box, how many of each, and the sheets that can be had."""

    boxes: tuple[Box, ...]
    counts: tuple[int, ...]  #: of each kind
    beds: tuple[Bed, ...]

    def turns(self, kind: int, bed: int) -> tuple[int, ...]:
        """Return the quarter turns in which a kind of box may lie on a kind of sheet."""
        box = self.boxes[kind]
        may_turn = box.may_turn or self.beds[bed].turns_all
        return (0, 1) if may_turn and box.width != box.height else (0,)


class Placed(NamedTuple):
    """A box with its lower left corner at (x, y), turned by *quarters* counter-clockwise."""

    kind: int
    x: int
    y: int
    quarters: int = 0


class Way(Enum):
    """How a cut runs through a piece."""

    UPRIGHT = "upright"  #: it parts left from right
    LEVEL = "level"  #: it parts lower from upper


@dataclass(frozen=True, slots=True)
class Leaf:
    """A piece that is cut no further: a box, or an offcut where *kind* is None.

    A box may be smaller than its piece; it then lies in the lower left corner and
    is trimmed.
    """

    kind: int | None
    quarters: int = 0


@dataclass(frozen=True, slots=True)
class Cut:
    """A cut from edge to edge, *at* so far from the left or lower edge of its piece."""

    way: Way
    at: int
    near: Cut | Leaf  #: what lies at the left, or below
    far: Cut | Leaf


@dataclass(frozen=True)
class Pattern:
    """One way to fill one sheet; *cuts* where it is cut from edge to edge."""

    bed: int  #: index of the kind of sheet
    placed: tuple[Placed, ...]
    cuts: Cut | Leaf | None = None

    def counts(self, kinds: int) -> tuple[int, ...]:
        """Return how many of each of so many kinds lie on it."""
        found = [0] * kinds
        for box in self.placed:
            found[box.kind] += 1
        return tuple(found)


@dataclass(frozen=True)
class Plan:
    """Which patterns to cut and how often; *bound* is a price below which no plan can be.

    *bound* is proved, never guessed; *is_open* says that it is one of the rectangles
    around the parts or of another relaxation that real outlines could beat: then it
    is no bound of this problem, and must not be told as one.
    """

    runs: tuple[tuple[Pattern, int], ...]
    bound: int
    is_open: bool = False

    def sheets(self) -> int:
        """Return how many sheets are cut."""
        return sum(times for _, times in self.runs)

    def price(self, beds: Sequence[Bed]) -> int:
        """Return the price of all sheets."""
        return sum(beds[pattern.bed].price * times for pattern, times in self.runs)


class Filled(NamedTuple):
    """What a filler got onto one sheet, and the positions in its list that found no room."""

    placed: tuple[Placed, ...]
    left: tuple[int, ...]
    cuts: Cut | Leaf | None = None


class Work:
    """How much work may still be done, counted in steps and never in seconds.

    The same limit gives the same result on every machine. ``stop`` ends the work
    where it is: what has been found by then is kept.

    >>> work = Work(10)
    >>> work.spend(4); work.spent, work.is_over
    (4, False)
    >>> work.stop(); work.is_over
    True
    """

    def __init__(self, limit: int) -> None:
        self.limit = limit
        self.spent = 0

    def spend(self, steps: int) -> None:
        """Count *steps* as done."""
        self.spent += steps

    @property
    def is_over(self) -> bool:
        """Whether nothing more shall be tried."""
        return self.spent >= self.limit

    def stop(self) -> None:
        """Let nothing more be tried."""
        self.limit = min(self.limit, self.spent)


#: Puts boxes of the kinds listed, in that order or a better one, onto one sheet.
#: (kinds of the boxes in order, index of the bed, work) -> Filled
Filler = Callable[[Sequence[int], int, Work], Filled]


class Priced(NamedTuple):
    """The most valuable pattern that was found, and what no pattern is worth more than.

    *at_most* is proved; None where it stays open.
    """

    pattern: Pattern | None
    value: int
    at_most: int | None


#: Looks for the pattern worth most: (price of each kind, at most so many of each kind,
#: index of the bed, work) -> Priced. Prices are whole numbers.
Pricer = Callable[[Sequence[int], Sequence[int], int, Work], Priced]


#: Finds sheets for the same boxes that cost no more: (order, sheets one by one, price at
#: which it is good enough, work) -> sheets
Improver = Callable[[Order, Sequence[Pattern], int, Work], Sequence[Pattern]]


@dataclass(frozen=True)
class Method:
    """A way to cut, as the solver of kits and of single books sees it.

    *fillers* are fast and heuristic; *pricers* run from cheap to exact, and the next
    one is asked when one finds nothing better. *count_bound* returns a proved bound
    on the price of an order; None where none is known. *improver* works on single sheets,
    after whole numbers of patterns have been found.
    """

    fillers: tuple[Filler, ...]
    pricers: tuple[Pricer, ...]
    count_bound: Callable[[Order], int] | None
    improver: Improver | None = None
