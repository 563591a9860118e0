"""The book open between two pages, or with a cover turned back.

Everything turns about upright lines, parallel to the spine. Between two pages the
channel opens like a U: both its folds go from a right angle to 90 - f/2 degrees, f
being the angle of the opening. The back half stays where it lies; the front half
turns over to the left. A cover turns with its joint about the outer corner of the
spine board, which stays with the pages; its tab points to where it is taped.

The place of the spine board between two open halves is a choice: rigid halves would
tear the channels off it. It lies parallel to the line between the covers' spine
edges, in the middle between them, as far out as the joints let it; the covers slide
outwards along their pages for that, as far as their tabs are long. Where even then
the spine board is too wide, it stands as far out as a joint is wide.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from typing import NamedTuple

from ..bindings.bound import Join, Towards
from ..book.book import Book
from ..part import Line
from ..rigid import Place, Pose
from .assembly import Assembly, dressed
from .case_covering import pointed, shared_edge
from .case_places import BACK, FRONT, Case, board_edge, moved, only, spine_corner, spine_key
from .folded_part import FoldedPart
from .placing import Bench, lying, middle
from .web import Hinge, Node, ends_of, hanging_on, hinge_on, page_keys, way, web_of

OPEN = 120.0  #: degrees; a book held open to be looked into

Places = dict[str, dict[str, Pose]]
Spot = tuple[float, float]
"""A place in the cross-section of the book: x and z."""


def opened(
    book: Book,
    parts: Mapping[str, FoldedPart],
    assembly: Assembly,
    opening: int,
    angle_deg: float = OPEN,
) -> Assembly:
    """Return the book open behind page *opening* (0: the front cover turned back) by an angle.

    0 degrees is closed, 180 lies flat. Raises ValueError where there is no such
    opening. What hangs on neither side stays where it is.
    """
    count = len(page_keys(book))
    if not 0 <= opening <= count:
        raise ValueError(f"a book of {count} pages has no opening {opening}")
    if opening in (0, count):
        places = _cover_turned(book, assembly, FRONT if opening == 0 else BACK, angle_deg)
    else:
        places = _halves_turned(book, parts, assembly, opening, angle_deg)
    return dressed(book, assembly.bench, assembly.case, places, assembly.tree)


def turn(angle_deg: float, about: Spot) -> Pose:
    """Return the turn of the front half over to the left by an angle, about an upright line."""
    cosine, sine = math.cos(math.radians(angle_deg)), math.sin(math.radians(angle_deg))
    x, z = about
    rows = ((cosine, 0, -sine), (0, 1, 0), (sine, 0, cosine))
    return Pose(rows, (x - cosine * x + sine * z, 0, z - sine * x - cosine * z))


def spot_of(place: Place) -> Spot:
    """Return a place in the cross-section."""
    return float(place[0]), float(place[2])


def _structure(book: Book, assembly: Assembly) -> Places:
    """Return the places of all that stands by itself: not what is stuck on boards and parts."""
    held = {join.part for join in assembly.tree} | {join.onto_part for join in assembly.tree}
    keys = held | {FRONT, spine_key(book)}
    return {key: dict(poses) for key, poses in assembly.places.items() if key in keys}


# ------------------------------------------------------------------ two halves


class Turned(NamedTuple):
    """The motions of both halves and of the channel between them."""

    front: Pose
    channel: Pose
    front_half: frozenset[Node]
    channel_node: Node | None


def turned_halves(
    book: Book, parts: Mapping[str, FoldedPart], assembly: Assembly, opening: int, angle_deg: float
) -> Turned | None:
    """Return how the front half and the channel of an opening turn; None where nothing hangs so."""
    web = web_of(book, parts, assembly.tree)
    roots = {key: folded.root for key, folded in parts.items()}
    ends = ends_of(book, roots, opening, (FRONT, roots[FRONT]), (BACK, roots[BACK]))
    hinge = hinge_on(way(web, *ends))
    if hinge is None:
        return None
    half = frozenset(hanging_on(web, ends[0], hinge))
    front, channel = motions(assembly, hinge, angle_deg)
    return Turned(front, channel, half, hinge.channel)


def motions(assembly: Assembly, hinge: Hinge, angle_deg: float) -> tuple[Pose, Pose]:
    """Return how the front half and the channel move when the book opens by an angle."""
    back = _fold_spot(assembly, *hinge.back)
    if hinge.channel is None:
        whole = turn(angle_deg, back)
        return whole, whole
    channel = turn(angle_deg / 2, back)
    front = channel.compose(turn(angle_deg / 2, _fold_spot(assembly, *hinge.front)))
    return front, channel


def _fold_spot(assembly: Assembly, line: Line, beyond: Node) -> Spot:
    point = next(point for piece in line.pieces for point in piece.points)
    return spot_of(assembly.places[beyond[0]][beyond[1]].at(point))


def _halves_turned(
    book: Book, parts: Mapping[str, FoldedPart], assembly: Assembly, opening: int, angle_deg: float
) -> Places:
    places = _structure(book, assembly)
    turned = turned_halves(book, parts, assembly, opening, angle_deg)
    if turned is None:
        return places
    for key, poses in places.items():
        for panel, pose in poses.items():
            if (key, panel) == turned.channel_node:
                poses[panel] = turned.channel.compose(pose)
            elif (key, panel) in turned.front_half:
                poses[panel] = turned.front.compose(pose)
    spine = spine_key(book)
    if assembly.case is not None and {FRONT, BACK, spine} <= set(places):
        _settle_case(assembly, assembly.case, places, turned.front, angle_deg)
    elif spine in places:
        places[spine] = {p: turned.channel.compose(q) for p, q in places[spine].items()}
    return places


def _settle_case(
    assembly: Assembly, case: Case, places: Places, front: Pose, angle_deg: float
) -> None:
    """Slide the covers outwards as far as the spine board needs, and put that between them."""
    bench = assembly.bench
    slid = slides(assembly, case, front)
    spots = {}
    for key, (dx, dz) in ((FRONT, _along(front)), (BACK, (1.0, 0.0))):
        dx, dz = dx * slid[key], dz * slid[key]
        places[key] = {name: moved(pose, dx, 0, dz) for name, pose in places[key].items()}
        spots[key] = board_edge(bench, case, only(places[key]), key)
    joint = min(case.joints.values())
    pose = _between(bench, case, spots[FRONT], spots[BACK], joint, angle_deg)
    x, _, z = pose.translation
    lifted = Pose(pose.rotation, (x, only(places[case.spine]).translation[1], z))
    places[case.spine] = dict.fromkeys(places[case.spine], lifted)


def slides(assembly: Assembly, case: Case, front: Pose) -> dict[str, float]:
    """Return how far (mm) each cover slides outwards along its pages, the front half moved so.

    Below 0 where spine board and joints together are too narrow for the opening, so
    that they pull the covers inwards.
    """
    bench = assembly.bench
    slacks = {key: slack_of(assembly, key) for key in (FRONT, BACK)}
    along = {FRONT: _along(front), BACK: (1.0, 0.0)}
    poses = {FRONT: front.compose(only(assembly.places[FRONT])), BACK: only(assembly.places[BACK])}
    corners = {key: board_edge(bench, case, pose, key) for key, pose in poses.items()}
    spine = float(bench.parts[case.spine].part.panels[0].bounds().width)
    joints = sum(case.joints.values())

    def apart(share: float) -> float:
        spots = [
            (x + along[key][0] * slacks[key] * share, z + along[key][1] * slacks[key] * share)
            for key, (x, z) in corners.items()
        ]
        return math.dist(*spots)

    tight = apart(0) - spine - joints
    if tight > 0:
        return dict.fromkeys(slacks, -tight / 2)
    share = _least_share(lambda part: spine - apart(part) <= joints)
    return {key: slack * share for key, slack in slacks.items()}


def _along(motion: Pose) -> Spot:
    """Return where the direction from spine to fore-edge points after a motion."""
    return float(motion.rotation[0][0]), float(motion.rotation[2][0])


def slack_of(assembly: Assembly, board: str) -> float:
    """Return how much longer the tab to a board is than its way there in the closed book."""
    found = [
        m for m in assembly.mismatches if m.join.onto_part == board and m.join in assembly.tree
    ]
    return max((abs(float(m.shift.x)) for m in found), default=0.0)


def _least_share(is_wide_enough: Callable[[float], bool]) -> float:
    """Return the least share of 0 to 1 at which something holds that stays so; 1 where it never does."""
    low, high = 0.0, 1.0
    if is_wide_enough(low):
        return low
    for _ in range(40):
        half = (low + high) / 2
        low, high = (low, half) if is_wide_enough(half) else (half, high)
    return high


def _between(
    bench: Bench, case: Case, front: Spot, back: Spot, joint: float, angle_deg: float
) -> Pose:
    """Return the spine board parallel to the line from *back* to *front*, as far out as a joint lets it."""
    box = bench.parts[case.spine].part.panels[0].bounds()
    apart = math.dist(front, back)
    if apart < 1e-9:
        across = (-math.sin(math.radians(angle_deg / 2)), math.cos(math.radians(angle_deg / 2)))
    else:
        across = ((front[0] - back[0]) / apart, (front[1] - back[1]) / apart)
    lean = (float(box.width) - apart) / 2
    out = math.sqrt(joint**2 - lean**2) if abs(lean) < joint else joint
    out -= float(bench.height(case.joins[case.spine]))
    normal = (-across[1], across[0])
    centre = float(box.left + box.right) / 2
    x = (front[0] + back[0]) / 2 + normal[0] * out - across[0] * centre
    z = (front[1] + back[1]) / 2 + normal[1] * out - across[1] * centre
    rows = ((across[0], 0, normal[0]), (0, 1, 0), (across[1], 0, normal[1]))
    return Pose(rows, (x, 0, z))


# ------------------------------------------------------------------ a cover


def _cover_turned(book: Book, assembly: Assembly, cover: str, angle_deg: float) -> Places:
    """Return the book with a cover turned back: the front cover turns, or all but the back cover."""
    places = _structure(book, assembly)
    case, bench = assembly.case, assembly.bench
    if case is None or cover not in places:
        return places
    towards = Towards.FRONT if cover == FRONT else Towards.BACK
    motion = turn(angle_deg, spine_corner(bench, case, only(places[case.spine]), towards))
    moving = {FRONT} if cover == FRONT else set(places) - {BACK}
    for key in moving:
        places[key] = {name: motion.compose(pose) for name, pose in places[key].items()}
    for join in assembly.tree:
        if join.onto_part == cover and join.part in places:
            _point_tab(bench, places, join.part, join.panel, cover, join)
    return places


def _point_tab(bench: Bench, places: Places, key: str, tab: str, cover: str, join: Join) -> None:
    """Turn a cover tab about its fold until it points to where it is taped on its board."""
    part = bench.parts[key].part
    zone = bench.zone_box(join)
    wanted = lying(join, zone, bench.height(join))
    place = only(places[cover]).compose(wanted).at(middle(zone))
    for line in part.folds:
        if tab in line.key.panels():
            (near,) = line.key.panels() - {tab}
            edge = shared_edge(part.panel(near), part.panel(tab))
            if edge is not None:
                places[key][tab] = pointed(places[key][near], edge, place)
                return
