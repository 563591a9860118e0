"""The cuts of a sheet one by one, in an order in which a person with a trimmer can follow them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from enum import Enum
from itertools import count
from typing import NamedTuple

from ..order import Cut, Leaf, Order, Pattern, Way
from .blocks import CROSS, far_row, placed_by


class Purpose(Enum):
    """What a cut is for."""

    MARGIN = "margin"  #: it takes off an edge of the sheet that cannot be used
    PART = "part"  #: it parts one piece from the next
    TRIM = "trim"  #: it takes off what a part is smaller than its piece


class Margins(NamedTuple):
    """What cannot be used along the edges of a sheet."""

    left: int = 0
    lower: int = 0
    right: int = 0
    upper: int = 0


class Piece(NamedTuple):
    """A piece of paper in the hand: a letter to pencil on it, or the box that it is, or neither.

    A piece without a letter is finished: a box where *kind* says which, otherwise an
    offcut. *quarters*: how often the box has been turned.
    """

    width: int
    height: int
    letter: str | None = None
    kind: int | None = None
    quarters: int = 0


class Stroke(NamedTuple):
    """One stroke of the blade; the far piece keeps the letter of the piece where it is cut again."""

    piece: Piece
    near: Piece  #: between the fence and the blade
    far: Piece


@dataclass(frozen=True)
class Step:
    """All cuts that follow one another with the same setting of the fence.

    *fence* is the distance from the fence to the blade; the left edge of the piece
    lies against the fence for an upright cut, the lower edge for a level one. *stage*
    counts how often the way of the cuts has changed; 0 for margins.
    """

    number: int
    purpose: Purpose
    stage: int
    way: Way
    fence: int
    strokes: tuple[Stroke, ...]

    @property
    def longest(self) -> int:
        """The length of the longest cut: a trimmer must be as long."""
        return max(_across(self.way, stroke.piece) for stroke in self.strokes)


NO_MARGINS = Margins()


def cut_steps(
    pattern: Pattern, order: Order, margins: Margins = NO_MARGINS, gap: int = 0
) -> tuple[Step, ...]:
    """Return the numbered steps that cut a sheet into its boxes.

    First the margins, and only those that a box reaches: elsewhere they go with the
    offcuts. Then stage by stage; within a stage the fence moves from wide to narrow,
    and what has the same setting is cut together. *gap* is what the boxes and the
    sheet were made larger by: the pieces in the steps are without it.
    """
    if pattern.cuts is None:
        raise ValueError("the pattern has no cuts from edge to edge")
    bed = order.beds[pattern.bed]
    width, height = bed.width - gap, bed.height - gap
    ends = _ends(pattern, order, gap)
    needed = Margins(
        margins.left,
        margins.lower,
        margins.right if width in ends[0] else 0,
        margins.upper if height in ends[1] else 0,
    )
    size = (width + margins.right - needed.right, height + margins.upper - needed.upper)
    return _numbered(_without_margins(_paper(pattern.cuts, _State(*size), order, gap), needed))


def _ends(pattern: Pattern, order: Order, gap: int) -> tuple[list[int], list[int]]:
    """Return where the boxes end at the right and above, without the gap."""
    sizes = [(box, order.boxes[box.kind].lying(box.quarters)) for box in pattern.placed]
    return (
        [box.x + width - gap for box, (width, _) in sizes],
        [box.y + height - gap for box, (_, height) in sizes],
    )


@dataclass(frozen=True)
class _Paper:
    """A piece of real paper, and what becomes of it: a cut, a box, or nothing."""

    width: int
    height: int
    kind: int | None = None
    quarters: int = 0
    cut: _Cut | None = None


@dataclass(frozen=True)
class _Cut:
    purpose: Purpose
    stage: int
    way: Way
    at: int
    near: _Paper
    far: _Paper


def _parts(way: Way, at: int, width: int, height: int) -> tuple[tuple[int, int], tuple[int, int]]:
    """Return the sizes of the near and of the far piece."""
    if way is Way.UPRIGHT:
        return (at, height), (width - at, height)
    return (width, at), (width, height - at)


class _State(NamedTuple):
    """A piece that is about to be cut, and the cut that parted it off: its way and stage."""

    width: int
    height: int
    last: Way | None = None
    stage: int = 0

    def cut(self, way: Way, at: int) -> tuple[_State, _State]:
        """Return the near and the far piece."""
        stage = self.stage + (way is not self.last)
        near, far = _parts(way, at, self.width, self.height)
        return _State(*near, way, stage), _State(*far, way, stage)

    def length(self, way: Way) -> int:
        """Return how long the piece is across the cut."""
        return self.width if way is Way.UPRIGHT else self.height


def _paper(cuts: Cut | Leaf, state: _State, order: Order, gap: int) -> _Paper:
    """Return a piece with its cuts, trims among them."""
    row, leaf = far_row(cuts)
    made: list[tuple[_State, _Cut]] = []
    paper: _Paper | None = None
    for cut, is_used in zip(row, _used(row, leaf), strict=True):
        if not is_used:
            paper = _Paper(*state[:2])
        elif cut.at >= state.length(cut.way):  # what is beyond is the gap alone
            paper = _paper(cut.near, state, order, gap)
        if paper is not None:
            break
        near, far = state.cut(cut.way, cut.at)
        piece = _paper(cut.near, near, order, gap)
        made.append((state, _Cut(Purpose.PART, near.stage, cut.way, cut.at, piece, piece)))
        state = far
    paper = paper or _trimmed(leaf, state, order, gap)
    for before, stroke in reversed(made):
        paper = _Paper(*before[:2], cut=replace(stroke, far=paper))
    return paper


def _used(row: Sequence[Cut], leaf: Leaf) -> list[bool]:
    """Return for each cut of a row whether there is any box in what it parts."""
    used, is_used = list[bool](), leaf.kind is not None
    for cut in reversed(row):
        is_used = is_used or bool(placed_by(cut.near))
        used.append(is_used)
    return used[::-1]


def _trimmed(leaf: Leaf, state: _State, order: Order, gap: int) -> _Paper:
    """Return a box in a piece that may be larger; the trim in the way of the last cut comes first."""
    if leaf.kind is None:
        return _Paper(*state[:2])
    width, height = order.boxes[leaf.kind].lying(leaf.quarters)
    first = state.last or Way.UPRIGHT
    for way in (first, CROSS[first]):
        at = (width if way is Way.UPRIGHT else height) - gap
        if at < state.length(way):
            near, far = state.cut(way, at)
            rest = _Paper(*far[:2])
            cut = _Cut(Purpose.TRIM, near.stage, way, at, _trimmed(leaf, near, order, gap), rest)
            return _Paper(*state[:2], cut=cut)
    return _Paper(*state[:2], leaf.kind, leaf.quarters)


def _without_margins(paper: _Paper, margins: Margins) -> _Paper:
    """Return the whole sheet, from which margins are cut before all else."""
    for way, is_near, size in (
        (Way.LEVEL, False, margins.upper),
        (Way.LEVEL, True, margins.lower),
        (Way.UPRIGHT, False, margins.right),
        (Way.UPRIGHT, True, margins.left),
    ):
        if not size:
            continue
        width, height = paper.width, paper.height
        if way is Way.UPRIGHT:
            strip, whole, at = (size, height), (width + size, height), width
        else:
            strip, whole, at = (width, size), (width, height + size), height
        sides = (_Paper(*strip), paper) if is_near else (paper, _Paper(*strip))
        cut = _Cut(Purpose.MARGIN, 0, way, size if is_near else at, *sides)
        paper = _Paper(*whole, cut=cut)
    return paper


#: Cuts with the same setting follow one another: stage, fence (widest first), way, purpose.
_Setting = tuple[int, int, str, str]


def _setting(cut: _Cut) -> _Setting:
    return (cut.stage, -cut.at, cut.way.value, cut.purpose.value)


def _numbered(sheet: _Paper) -> tuple[Step, ...]:
    """Return the steps: of all cuts that can be made next, always those of the same setting.

    The lowest stage goes first, and in it the widest setting.
    """
    letters = _letters()
    ready = [(next(letters), sheet, sheet.cut)] if sheet.cut else []
    steps: list[Step] = []
    while ready:
        cut = min((cut for _, _, cut in ready), key=_setting)
        strokes: list[Stroke] = []
        while same := [entry for entry in ready if _setting(entry[2]) == _setting(cut)]:
            letter, paper, stroke = same[0]
            ready.remove(same[0])
            near, far = _named(stroke, letter, letters)
            strokes.append(Stroke(_piece(paper, letter), near, far))
            ready += [
                (piece.letter, side, side.cut)
                for piece, side in ((near, stroke.near), (far, stroke.far))
                if piece.letter and side.cut
            ]
        steps.append(Step(len(steps) + 1, cut.purpose, cut.stage, cut.way, cut.at, tuple(strokes)))
    return tuple(steps)


def _named(cut: _Cut, letter: str, letters: Iterator[str]) -> tuple[Piece, Piece]:
    """Return the near and the far piece: the far one keeps the letter, a second one gets the next."""
    far = _piece(cut.far, letter) if cut.far.cut else _piece(cut.far, None)
    if not cut.near.cut:
        return _piece(cut.near, None), far
    return _piece(cut.near, next(letters) if cut.far.cut else letter), far


def _piece(paper: _Paper, letter: str | None) -> Piece:
    return Piece(paper.width, paper.height, letter, paper.kind, paper.quarters)


def _letters() -> Iterator[str]:
    """Yield A to Z, then AA, AB and so on."""
    alphabet = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"
    for number in count():
        letters, rest = alphabet[number % 26], number // 26
        while rest:
            rest -= 1
            letters, rest = alphabet[rest % 26] + letters, rest // 26
        yield letters


def _across(way: Way, piece: Piece) -> int:
    return piece.height if way is Way.UPRIGHT else piece.width


def offcuts(steps: Sequence[Step]) -> tuple[Piece, ...]:
    """Return what is left over, the largest first: what is worth keeping, the person decides."""
    pieces = [piece for step in steps for stroke in step.strokes for piece in stroke[1:]]
    waste = [piece for piece in pieces if piece.letter is None and piece.kind is None]
    return tuple(sorted(waste, key=lambda piece: (-piece.width * piece.height, piece[:2])))
