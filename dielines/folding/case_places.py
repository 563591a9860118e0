"""The case in its place: boards at the ends of the joints, the spine board upright, their covering.

The spine board stands upright on the boards, its inside against the channels, in the
middle between the boards' insides; what it is wider than the pages are thick is the
play. Each board slides along the pages until its joint is taut between the outer
corner of the spine board and its own; where its cover tab is too short for that, the
tab holds it back. The covering has no folds where it bends, so its panels are
placed one by one.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from ..bindings.bound import Join, Towards
from ..bindings.case import BOARD_KEYS
from ..book.book import Book
from ..part import Side
from ..paths import Bounds, Number
from ..rigid import AT_REST, Pose
from .placing import Bench, angle_between, is_whole, lying

FRONT, BACK = BOARD_KEYS[Towards.FRONT], BOARD_KEYS[Towards.BACK]
BOARDS, WRAP = "boards", "wrap"
COVERING = frozenset({WRAP, "lining", "edges"})  #: roles of what is stuck on the case

Places = Mapping[str, Mapping[str, Pose]]

#: The spine board as it stands in the closed book: its outside looks away from the pages, its
#: front edge, at the right as its outside is seen, lies up.
STANDING = ((0, 0, -1), (0, 1, 0), (1, 0, 0))

NEARLY = 1e-3  #: degrees; rounding of floats stays far below


@dataclass(frozen=True)
class Case:
    """The cover spread out flat on its inside, as one sees it from outside.

    *flat* has the pose of the wrap and of each board in the drawing of the front
    board; *joints* the room (mm) that the wrap leaves between each board and the spine board.
    """

    wrap: str
    spine: str
    flat: Mapping[str, Pose]
    joints: Mapping[Towards, float]
    joins: Mapping[str, Join]  #: the join of the wrap onto the outside of each board, by the board


def spine_key(book: Book) -> str:
    """Return the key of the spine board: the board that is no cover; empty without one."""
    keys = [e.key for e in book.parts if e.role == BOARDS and e.key not in (FRONT, BACK)]
    return keys[0] if keys else ""


def case_of(book: Book, bench: Bench) -> Case | None:
    """Return the cover spread out flat; None where no wrap joins both boards and the spine board."""
    wraps = {entry.key for entry in book.parts if entry.role == WRAP}
    spine = spine_key(book)
    joins: dict[str, Join] = {}
    for join in book.joins:
        is_outside = join.onto_part in (FRONT, BACK, spine) and join.onto_side is Side.FACE
        if join.part in wraps and is_outside and is_whole(join, bench.zone_box(join)):
            joins.setdefault(join.onto_part, join)
    if set(joins) != {FRONT, BACK, spine} or len({join.part for join in joins.values()}) > 1:
        return None
    on_board = {key: wrap_on(bench, join) for key, join in joins.items()}
    wrap = on_board[FRONT]
    flat = {key: wrap.compose(on_board[key].inverse()) for key in (spine, BACK)}
    flat |= {FRONT: AT_REST, joins[FRONT].part: wrap}
    return Case(joins[FRONT].part, spine, flat, _joints(bench, flat, spine), joins)


def wrap_on(bench: Bench, join: Join) -> Pose:
    """Return the pose of the wrap, spread out, in the drawing of the board that a join names."""
    return lying(join, bench.zone_box(join), bench.height(join))


def _joints(bench: Bench, flat: Mapping[str, Pose], spine: str) -> dict[Towards, float]:
    boxes = {key: flat_box(bench, key, flat[key]) for key in (FRONT, spine, BACK)}
    return {
        Towards.FRONT: _apart(boxes[FRONT], boxes[spine]),
        Towards.BACK: _apart(boxes[BACK], boxes[spine]),
    }


def flat_box(bench: Bench, key: str, pose: Pose) -> Bounds:
    """Return the rectangle of a board, moved by a pose that leaves it level."""
    outline = next(iter(bench.parts[key].outlines.values()))
    corners = [pose.at(point) for point in outline.points]
    xs, ys = [float(c[0]) for c in corners], [float(c[1]) for c in corners]
    return Bounds(min(xs), min(ys), max(xs), max(ys))


def _apart(a: Bounds, b: Bounds) -> float:
    return float(max(a.left - b.right, b.left - a.right))


# ------------------------------------------------------------------ the closed case


def closed_case(
    book: Book, bench: Bench, places: Places, case: Case | None, joins: Sequence[Join]
) -> dict[str, dict[str, Pose]]:
    """Return the places of the boards and the spine board in the closed book.

    *places* has the boards where their cover tabs hold them, flat on the pages;
    *joins* are those of the pages onto the spine board.
    """
    spine = spine_key(book)
    if not spine or FRONT not in places:
        return {}
    standing = _standing_spine(bench, places, case, joins, spine)
    found = {spine: {bench.parts[spine].root: standing}}
    for key, towards in ((FRONT, Towards.FRONT), (BACK, Towards.BACK)):
        if key in places and case is not None:
            found[key] = _slid_board(bench, places[key], key, case, towards, standing)
    return found


def _standing_spine(
    bench: Bench, places: Places, case: Case | None, joins: Sequence[Join], spine: str
) -> Pose:
    by_joins = list(_spines_of(bench, places, joins))
    panel = bench.parts[spine].part.panels[0].bounds()
    caliper = float(bench.calipers[spine])
    x = min((float(p.translation[0]) for p in by_joins), default=-caliper / 2)
    if case is not None:
        y = float(places[FRONT][bench.parts[FRONT].root].translation[1])
        y += float(case.flat[spine].translation[1])
    else:
        y = float(by_joins[0].translation[1]) if by_joins else 0.0
    middle = sum(inside_heights(bench, places)) / 2
    z = middle - float(panel.left + panel.right) / 2
    return Pose(STANDING, (x, y, z))


def _spines_of(bench: Bench, places: Places, joins: Sequence[Join]) -> Sequence[Pose]:
    """Return where each join would have the spine board, of those that have it stand upright."""
    standing = Pose(STANDING, (0, 0, 0))
    found = []
    for join in joins:
        if join.part in places:
            wanted = lying(join, bench.zone_box(join), bench.height(join))
            pose = places[join.part][join.panel].compose(wanted.inverse())
            if angle_between(pose, standing) < NEARLY:
                found.append(pose)
    return found


def inside_heights(bench: Bench, places: Places) -> tuple[float, float]:
    """Return the heights of the insides of the back and the front board (the same without one)."""
    front = _height(places, bench, FRONT) - float(bench.calipers[FRONT]) / 2
    if BACK not in places:
        return front, front
    return _height(places, bench, BACK) + float(bench.calipers[BACK]) / 2, front


def _height(places: Places, bench: Bench, key: str) -> float:
    return float(places[key][bench.parts[key].root].translation[2])


def _slid_board(
    bench: Bench,
    poses: Mapping[str, Pose],
    key: str,
    case: Case,
    towards: Towards,
    standing: Pose,
) -> dict[str, Pose]:
    """Return a board slid towards the spine as far as its joint reaches."""
    corner = spine_corner(bench, case, standing, towards)
    panel, pose = next(iter(poses.items()))
    edge = board_edge(bench, case, pose, key)
    rise = edge[1] - corner[1]
    reach = math.sqrt(max(0.0, case.joints[towards] ** 2 - rise**2))
    slide = min(0.0, corner[0] + reach - edge[0])
    return {panel: moved(pose, slide, 0, 0)}


def moved(pose: Pose, dx: Number, dy: Number, dz: Number) -> Pose:
    """Return *pose* moved along in the frame of the book."""
    x, y, z = pose.translation
    return Pose(pose.rotation, (x + dx, y + dy, z + dz))


def spine_corner(bench: Bench, case: Case, standing: Pose, towards: Towards) -> tuple[float, float]:
    """Return where the covering leaves the spine board for a board, x and z, in its middle layer."""
    box = bench.parts[case.spine].part.panels[0].bounds()
    across = box.right if towards is Towards.FRONT else box.left
    place = standing.at((across, box.bottom), bench.height(case.joins[case.spine]))
    return float(place[0]), float(place[2])


def board_edge(bench: Bench, case: Case, pose: Pose, key: str) -> tuple[float, float]:
    """Return where the covering comes onto a board, x and z, in its middle layer."""
    box = bench.parts[key].part.panels[0].bounds()
    across = box.left if key == FRONT else box.right
    place = pose.at((across, box.bottom), bench.height(case.joins[key]))
    return float(place[0]), float(place[2])


def only(poses: Mapping[str, Pose]) -> Pose:
    """Return the pose of the one panel of a board."""
    return next(iter(poses.values()))
