"""The case of a book: boards, the wrap that joins them, spine lining and edge strips."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import NamedTuple

from ..part import Part, Side
from ..part_motion import Motion, mirrored
from .bound import BoundPart, Join, Towards
from .frame import Frame
from .joining import shared_join

BOARD_KEYS = {Towards.FRONT: "front-board", Towards.BACK: "back-board"}


def find_board_sizes(frame: Frame) -> None:
    """Find the sizes of the boards from those of the page, unless the boards drove them."""
    if "board_width" not in frame.sizes:
        frame.sizes.derive("board_width", "page_width + fore_edge")
        frame.sizes.derive("board_height", "page_height + 2 * square")


def find_case_sizes(frame: Frame) -> None:
    """Find the sizes of wrap, lining and strips; the spine has been found before."""
    sizes = frame.sizes
    sizes.derive("joint_wrap_width", "spine + 2 * joint + 2 * hold")
    sizes.derive("joint_wrap_height", "board_height + 2 * turn_in")
    sizes.derive("spine_lining_width", "spine + 2 * lining_side")
    sizes.derive("spine_lining_height", "board_height - 2 * turn_in + 2 * lining_end")
    sizes.derive("edge_strip_fore_edge", "board_height")
    sizes.derive("edge_strip_head_and_tail", "board_width - hold")
    sizes.derive("tape_inset", "tape_margin / 2", "from the tape to each edge")
    sizes.derive("hold_tape_inset", "hold_tape_margin / 2", "from the tape to each edge")
    sizes.derive("board_distance", "spine + 2 * joint", "a jig of this width sets the boards apart")


def case_parts(frame: Frame) -> tuple[BoundPart, ...]:
    """Return all parts of the case."""
    return (*_boards(frame), *_joint_wrap(frame), _lining(frame), *_edge_strips(frame))


def _boards(frame: Frame) -> Iterator[BoundPart]:
    sizes = {"width": "board_width", "height": "board_height"}
    board = frame.built("cover-board", sizes).parts[0]
    for cover, key in BOARD_KEYS.items():
        yield BoundPart(key, f"{cover.value} board", board, "boards")
    spine = frame.built("spine-board", {**sizes, "width": "spine"}).parts[0]
    yield BoundPart("spine-board", "spine board", spine, "boards")


def _joint_wrap(frame: Frame) -> Iterator[BoundPart]:
    sizes = {
        **{name: name for name in ("spine", "joint", "hold", "turn_in")},
        "height": "board_height",
        "tape_margin": "tape_inset",
        "hold_margin": "hold_tape_inset",
    }
    wrap, backing = frame.built("joint-wrap", sizes).parts
    yield BoundPart("joint-wrap", "joint wrap", wrap, "wrap")
    yield BoundPart("joint-wrap-backing", "backing of the joint wrap", backing, "reinforcement")


def _lining(frame: Frame) -> BoundPart:
    sizes = {
        "spine": "spine",
        "side": "lining_side",
        "height": "board_height",
        "turn_in": "turn_in",
        "end": "lining_end",
        "tape_margin": "tape_inset",
    }
    lining = frame.built("spine-lining", sizes).parts[0]
    return BoundPart("spine-lining", "spine lining", lining, "lining")


@dataclass(frozen=True, slots=True)
class _Strip:
    """An edge strip: which edge of which board, and whether it is the mirror image."""

    cover: Towards
    edge: str
    is_mirrored: bool

    @property
    def key(self) -> str:
        """Its name in files."""
        return f"edge-{self.cover.value}-{self.edge}"

    @property
    def outward(self) -> tuple[int, int]:
        """The direction away from the board, seen from outside."""
        if self.edge == "fore-edge":
            return (1, 0) if self.cover is Towards.FRONT else (-1, 0)
        return (0, 1) if self.edge == "head" else (0, -1)


#: seen from outside, head of the front board and tail of the back board are alike
_STRIPS = (
    _Strip(Towards.FRONT, "fore-edge", is_mirrored=False),
    _Strip(Towards.FRONT, "head", is_mirrored=False),
    _Strip(Towards.FRONT, "tail", is_mirrored=True),
    _Strip(Towards.BACK, "fore-edge", is_mirrored=False),
    _Strip(Towards.BACK, "head", is_mirrored=True),
    _Strip(Towards.BACK, "tail", is_mirrored=False),
)


def _edge_strips(frame: Frame) -> Iterator[BoundPart]:
    long_strip = _edge_strip(frame, "edge_strip_fore_edge", "fore-edge")
    short_strip = _edge_strip(frame, "edge_strip_head_and_tail", "head")
    for strip in _STRIPS:
        part = long_strip if strip.edge == "fore-edge" else short_strip
        part = mirrored(part) if strip.is_mirrored else part
        title = f"edge strip, {strip.edge} of the {strip.cover.value} board"
        yield BoundPart(strip.key, title, part, "edges")


def _edge_strip(frame: Frame, size: str, edge: str) -> Part:
    is_mitred = frame.usual.word("edge_corners") != "overlapped"
    outer_end = "mitred" if is_mitred else "overlapping"
    ends = {"first": "mitred" if is_mitred else "plain", "second": "plain"}
    if edge == "fore-edge":
        ends = {"first": outer_end, "second": outer_end}
    sizes = {"length_of_edge": size, "width": "edge_strip", "tape_margin": "tape_inset"}
    scores = frame.usual.word("edge_scores") or "once"
    return frame.built("edge-strip", sizes, scores=scores, **ends).parts[0]


def case_joins(frame: Frame, parts: Iterable[BoundPart]) -> list[Join]:
    """Return the joins of the case in the order of working.

    The joint wrap goes onto spine and boards, its turn-ins round head and tail,
    then the spine lining and the edge strips. A zone that lies on several parts
    has a join for its share of each.
    """
    by_key = {entry.key: entry.part for entry in parts}
    rows = [*_wrap_rows(frame), *_lining_rows(frame)]
    for strip in _STRIPS:
        rows.extend(_strip_rows(frame, by_key[strip.key], strip))
    joins: list[Join] = []
    for row in rows:
        target = by_key[row.onto[0]].panel(row.onto[1]).bounds()
        part = by_key[row.key]
        joins += shared_join(row.key, part, row.zone, row.root, row.motion, row.onto, target)
    return joins


class _Row(NamedTuple):
    """A zone of the case, and how its part, folded around *root*, is brought to a target."""

    key: str
    zone: str
    root: str
    motion: Motion
    onto: tuple[str, str, Side]


def _wrap_rows(frame: Frame) -> list[_Row]:
    """Return spine first, then both holds, then the turn-ins.

    A board's face is its outside: seen so, the front board's spine edge is at
    its left and the back board's at its right. The wrap's face is its inside.
    """
    sizes = frame.sizes
    turn_in, hold, joint = (sizes.length(n).mm for n in ("turn_in", "hold", "joint"))
    spine, board = sizes.length("spine").mm, sizes.length("board_width").mm
    onto_spine = Motion(a=-1, dx=hold + joint + spine, dy=-turn_in)
    onto_front = Motion(a=-1, dx=hold, dy=-turn_in)
    onto_back = Motion(a=-1, dx=board + hold + 2 * joint + spine, dy=-turn_in)
    boards = (
        ("spine", onto_spine, "spine-board", "spine"),
        ("front_hold", onto_front, "front-board", "board"),
        ("back_hold", onto_back, "back-board", "board"),
    )
    outside = [
        _Row("joint-wrap", zone, zone, motion, (board, panel, Side.FACE))
        for zone, motion, board, panel in boards
    ]
    inside = [
        _Row("joint-wrap", zone, "spine", motion, (board, panel, Side.REVERSE))
        for zone in ("head", "tail")
        for _, motion, board, panel in boards
    ]
    return [*outside, *inside]


def _lining_rows(frame: Frame) -> list[_Row]:
    """Return the rows of the lining: on the spine board, in the joints, and on a board beyond.

    Its reverse is glued. It lies like the boards' reverse turned over, and like
    the wrap's face, which shows in the joints.
    """
    sizes = frame.sizes
    turn_in, joint, hold = (sizes.length(n).mm for n in ("turn_in", "joint", "hold"))
    spine, board = sizes.length("spine").mm, sizes.length("board_width").mm
    side, below = sizes.length("lining_side").mm, turn_in - sizes.length("lining_end").mm
    on_wrap = Motion(dx=hold + joint - side, dy=turn_in + below)

    def turned(right: Fraction) -> Motion:
        return Motion(a=-1, dx=right + side, dy=below)

    rows = (
        (turned(spine), ("spine-board", "spine", Side.REVERSE)),
        (on_wrap, ("joint-wrap", "front_joint", Side.FACE)),
        (on_wrap, ("joint-wrap", "back_joint", Side.FACE)),
        (turned(-joint), ("front-board", "board", Side.REVERSE)),
        (turned(board + joint + spine), ("back-board", "board", Side.REVERSE)),
    )
    return [_Row("spine-lining", "lining", "lining", motion, onto) for motion, onto in rows]


def _strip_rows(frame: Frame, part: Part, strip: _Strip) -> Iterator[_Row]:
    """Yield the rows of the outside of an edge strip, then of all that it has inside the board.

    What is not scored at both ridges of the board is bent round them, so it lies
    inside by a board's thickness nearer to the edge than a flat fold would put it.
    """
    flat = _strip_motion(frame, part, strip)
    is_bent = not any(panel.name == "edge" for panel in part.panels)
    for zone in part.zones:
        across, up = (0, 0)
        if zone.panel == "inside" and is_bent:
            across, up = strip.outward
        elif zone.panel.startswith("over"):
            up = _end_of_board(frame, part, zone.panel, flat)
        side = Side.FACE if zone.panel == "outside" else Side.REVERSE
        motion = _moved_on(flat, across, up, frame.caliper("board").mm)
        yield _Row(
            strip.key, zone.name, "outside", motion, (BOARD_KEYS[strip.cover], "board", side)
        )


def _end_of_board(frame: Frame, part: Part, panel: str, motion: Motion) -> int:
    """Return 1 for a panel beyond the head of its board, -1 for one beyond the tail."""
    middle = frame.sizes.length("board_height").mm / 2
    return 1 if motion.place(part.panel(panel).outline.points[0]).y > middle else -1


def _moved_on(motion: Motion, across: int, up: int, distance: Fraction) -> Motion:
    return replace(motion, dx=motion.dx + across * distance, dy=motion.dy + up * distance)


def _strip_motion(frame: Frame, part: Part, strip: _Strip) -> Motion:
    """Return the motion of a strip's outside half, glue side down, onto its board seen from outside.

    *reach* is 1 where the outside half lies right of the fold, -1 left of it.
    """
    width, height = (frame.sizes.length(n).mm for n in ("board_width", "board_height"))
    outside = part.panel("outside").bounds()
    is_right = outside.left > 0
    reach, fold = (1, outside.left) if is_right else (-1, outside.right)
    is_front = strip.cover is Towards.FRONT
    if strip.edge == "fore-edge":
        out = -reach if is_front else reach
        start = width if is_front else Fraction(0)
        middle = height / 2 - (-out) * part.height / 2
        return Motion(a=out, d=-out, dx=start - out * fold, dy=middle)
    up = -reach if strip.edge == "head" else reach
    start = height if strip.edge == "head" else Fraction(0)
    corner = width if is_front else Fraction(0)
    return Motion(a=0, b=up, c=up, d=0, dx=corner - up * part.height, dy=start - up * fold)
