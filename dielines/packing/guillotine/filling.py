"""A sheet filled piece by piece: boxes go into the corner of a piece, two cuts part off the rest."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from typing import NamedTuple

from ..order import Cut, Leaf, Order, Way, Work
from .blocks import CROSS, far_row

#: Stages left where their number does not matter.
ANY_NUMBER = 1 << 30


class Piece(NamedTuple):
    """A piece that is still free: its size, the way of the cut that parted it, and stages left."""

    width: int
    height: int
    way: Way | None
    left: int


class Lying(NamedTuple):
    """A kind of box as it lies."""

    kind: int
    quarters: int
    width: int
    height: int


#: How good it is to put such a box into the corner of such a piece: the largest is best,
#: and never below zero.
Score = Callable[[Lying, Piece], int]


class Manner(NamedTuple):
    """A way to go about it."""

    first: Way  #: of the first cut of a sheet
    opening: Score  #: of the first box of a row
    matching: Score  #: of any other box


@dataclass
class Cutting:
    """A sheet while it is being filled: pieces by number, and what became of them."""

    pieces: list[Piece]
    cuts: dict[int, tuple[Way, int, int, int]] = field(default_factory=dict)
    boxes: dict[int, Lying] = field(default_factory=dict)

    def tree(self, number: int = 0) -> Cut | Leaf:
        """Return what became of a piece."""
        row: list[tuple[Way, int, int]] = []
        while number in self.cuts:
            way, at, near, number = self.cuts[number]
            row.append((way, at, near))
        box = self.boxes.get(number)
        tree: Cut | Leaf = Leaf(None) if box is None else Leaf(box.kind, box.quarters)
        for way, at, near in reversed(row):
            tree = Cut(way, at, self.tree(near), tree)
        return tree

    def part(self, number: int, way: Way, at: int) -> tuple[int, int]:
        """Cut a piece; return the numbers of the near and of the far piece."""
        width, height, last, left = self.pieces[number]
        left -= last is not way
        near, far = len(self.pieces), len(self.pieces) + 1
        if way is Way.UPRIGHT:
            self.pieces += [Piece(at, height, way, left), Piece(width - at, height, way, left)]
        else:
            self.pieces += [Piece(width, at, way, left), Piece(width, height - at, way, left)]
        self.cuts[number] = (way, at, near, far)
        return near, far

    def put(self, number: int, box: Lying, first: Way) -> list[int]:
        """Put a box into the corner of a piece; return the new free pieces.

        The first cut runs as the one that parted the piece off, which costs no stage;
        on a whole sheet, as *first* says. Where no stage is left, the box stays
        smaller than its piece and is trimmed.
        """
        free: list[int] = []
        way = self.pieces[number].way or first
        for cut in (way, CROSS[way]):
            width, height, last, left = self.pieces[number]
            at, length = (box.width, width) if cut is Way.UPRIGHT else (box.height, height)
            if at != length and (last is cut or left > 0):
                number, rest = self.part(number, cut, at)
                free.append(rest)
        self.boxes[number] = box
        return free

    def follow(
        self, cuts: Cut | Leaf, lying: dict[int, tuple[Lying, ...]], number: int = 0
    ) -> None:
        """Cut a free piece as a tree says."""
        row, last = far_row(cuts)
        for cut in row:
            near, number = self.part(number, cut.way, cut.at)
            self.follow(cut.near, lying, near)
        if last.kind is not None:
            self.boxes[number] = next(
                box for box in lying[last.kind] if box.quarters == last.quarters
            )

    def free(self) -> list[int]:
        """Return the pieces that hold nothing, the last to be filled first."""
        gone = {*self.cuts, *self.boxes}
        return [number for number in range(len(self.pieces)) if number not in gone]


def whole(order: Order, bed: int, stages: int | None) -> Cutting:
    """Return a sheet that nothing has been cut from."""
    sheet = order.beds[bed]
    left = ANY_NUMBER if stages is None else stages
    return Cutting([Piece(sheet.width, sheet.height, None, left)])


def lying(order: Order, bed: int, kinds: Iterable[int]) -> dict[int, tuple[Lying, ...]]:
    """Return the ways in which each kind may lie on a bed and fits it."""
    sheet = order.beds[bed]
    return {
        kind: tuple(
            Lying(kind, quarters, *size)
            for quarters in order.turns(kind, bed)
            for size in [order.boxes[kind].lying(quarters)]
            if size[0] <= sheet.width and size[1] <= sheet.height
        )
        for kind in sorted(set(kinds))
    }


def fill(
    cutting: Cutting,
    remaining: dict[int, int],
    lying: dict[int, tuple[Lying, ...]],
    manner: Manner,
    work: Work,
) -> None:
    """Put boxes into the free pieces of a sheet, and take them from *remaining*.

    The newest piece goes first, so that a pile is finished before its row, and a row
    before the next. Of equally good boxes the first of *remaining* is put.
    """
    free = cutting.free()
    top = cutting.pieces[0].left - 1
    while free and remaining:
        number = free.pop()
        piece = cutting.pieces[number]
        opens = piece.way is None or (piece.way is manner.first and piece.left == top)
        score = manner.opening if opens else manner.matching
        work.spend(3 + 3 * len(remaining) // 8)
        if box := _fittest(piece, remaining, lying, score):
            free += cutting.put(number, box, manner.first)
            _take(remaining, box.kind)


def _fittest(
    piece: Piece, remaining: dict[int, int], lying: dict[int, tuple[Lying, ...]], score: Score
) -> Lying | None:
    best, found = -1, None
    wide, high = piece.width, piece.height
    for kind in remaining:
        for box in lying[kind]:
            if box.width <= wide and box.height <= high:
                worth = score(box, piece)
                if worth > best:
                    best, found = worth, box
    return found


def _take(remaining: dict[int, int], kind: int) -> None:
    remaining[kind] -= 1
    if not remaining[kind]:
        del remaining[kind]
