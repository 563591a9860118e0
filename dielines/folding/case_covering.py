"""What is stuck on the case: the wrap with its backing, the lining, the edge strips.

Where a panel bends without a fold of its own it has no single pose; it is given in
pieces, each of which lies on one board, or in a joint.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence

from ..bindings.bound import Join
from ..book.book import Book, BookPart
from ..part import FoldKey, Panel, Part
from ..paths import Bounds, Number, Path, Point, bounds_of
from ..rigid import Place, Pose, turn_about
from .bent_pieces import BentPiece, cut_out, laid_over
from .case_places import COVERING, Case
from .placing import SAME, Bench, angle_between, is_whole, landing_box, lying, middle, quarters_of

Places = Mapping[str, Mapping[str, Pose]]


Covering = tuple[dict[str, dict[str, Pose]], dict[str, tuple[BentPiece, ...]]]
"""Places of panels by part and panel, and the pieces of bent panels by part."""


def covering(book: Book, bench: Bench, case: Case | None, places: Places) -> Covering:
    """Return where wrap, lining and edge strips are, for boards that have their *places*."""
    found: dict[str, dict[str, Pose]] = {}
    bent: dict[str, tuple[BentPiece, ...]] = {}
    joins = _joins_by_part(book)
    for entry in book.parts:
        if entry.role in COVERING:
            known = {**places, **found}
            poses, pieces = _covered(entry, joins.get(entry.key, []), bench, case, known)
            if poses:
                found[entry.key] = poses
            if pieces:
                bent[entry.key] = pieces
    return found, bent


def _joins_by_part(book: Book) -> dict[str, list[Join]]:
    found: dict[str, list[Join]] = {}
    for join in book.joins:
        if join.part != join.onto_part:
            found.setdefault(join.part, []).append(join)
    return found


def _covered(
    entry: BookPart, joins: Sequence[Join], bench: Bench, case: Case | None, places: Places
) -> tuple[dict[str, Pose], tuple[BentPiece, ...]]:
    onto = [join for join in joins if join.onto_panel in places.get(join.onto_part, {})]
    whole = [join for join in onto if is_whole(join, bench.zone_box(join))]
    poses = poses_by_joins(bench, whole, places)
    _bridge_gaps(bench.parts[entry.key].part, poses)
    pieces = list(_turned_in(entry, bench, joins, poses))
    if not poses and case is not None:
        pieces += laid_over(bench, [j for j in onto if j.onto_part in case.flat], case, places)
    return poses, tuple(pieces)


# ------------------------------------------------------------------ panels that a join holds


def poses_by_joins(bench: Bench, joins: Sequence[Join], places: Places) -> dict[str, Pose]:
    """Return the pose of each panel by its own join; how they lie turned, by all together."""
    if not joins:
        return {}
    first = joins[0]
    fellows = [join for join in joins if join.onto_part == first.onto_part]
    is_round = any(join.onto_side is not first.onto_side for join in fellows)
    quarter = min(
        quarters_of(first, bench.zone_box(first)),
        key=lambda q: (
            is_round and -_reach_beyond(bench, first, q),
            round(sum(_miss(bench, first, q, join) for join in fellows), 3),
        ),
    )
    found: dict[str, Pose] = {}
    for join in joins:
        chosen = _quarter(bench, first, quarter, join) if join in fellows else 0
        pose = lying(join, bench.zone_box(join), bench.height(join), chosen)
        found.setdefault(join.panel, places[join.onto_part][join.onto_panel].compose(pose))
    return found


def _expected(bench: Bench, first: Join, quarter: int, join: Join) -> Pose:
    """Return where folding alone would put the panel of *join* in the drawing of the target."""
    poses = bench.parts[first.part].poses
    pose = lying(first, bench.zone_box(first), bench.height(first), quarter)
    return pose.compose(poses[first.panel].inverse()).compose(poses[join.panel])


def _reach_beyond(bench: Bench, first: Join, quarter: int) -> int:
    """Return how many panels, still spread out flat, lie beyond the edges of the target.

    What goes round an edge to the other side must lie across that edge.
    """
    pose = lying(first, bench.zone_box(first), 0, quarter)
    box = bench.parts[first.onto_part].part.panel(first.onto_panel).bounds()
    places = [pose.at(middle(p.bounds())) for p in bench.parts[first.part].part.panels]
    inside = [p for p in places if box.left < p[0] < box.right and box.bottom < p[1] < box.top]
    return len(places) - len(inside)


def _miss(bench: Bench, first: Join, quarter: int, join: Join) -> float:
    at = _expected(bench, first, quarter, join).at(middle(bench.zone_box(join)))
    wanted = middle(landing_box(join))
    return math.hypot(float(at[0] - wanted.x), float(at[1] - wanted.y))


def _quarter(bench: Bench, first: Join, quarter: int, join: Join) -> int:
    if join is first:
        return quarter
    expected, zone = _expected(bench, first, quarter, join), bench.zone_box(join)
    return min(
        quarters_of(join, zone), key=lambda q: angle_between(lying(join, zone, 0, q), expected)
    )


# ------------------------------------------------------------------ panels between two others


def _bridge_gaps(part: Part, poses: dict[str, Pose]) -> None:
    """Give each panel that lies between two with a place one of its own: from edge to edge."""
    for panel in part.panels:
        if panel.name in poses:
            continue
        beside = [
            (part.panel(name), edge)
            for name in poses
            if (edge := shared_edge(part.panel(name), panel)) is not None
        ]
        if len(beside) == 2:
            (near, edge), (far, other) = beside
            if _is_one_line(edge, other):
                continue
            poses[panel.name] = bridged(poses[near.name], edge, panel, poses[far.name], other)


def _is_one_line(edge: tuple[Point, Point], other: tuple[Point, Point]) -> bool:
    """Return whether two upright or level edges lie on one line."""
    return any(
        all(abs(float(point[axis] - edge[0][axis])) <= SAME for point in (*edge, *other))
        for axis in (0, 1)
    )


def shared_edge(panel: Panel, beside: Panel) -> tuple[Point, Point] | None:
    """Return the upright or level line along which two panels touch, *beside* on its left."""
    a, b = panel.bounds(), beside.bounds()
    low, high = max(a.bottom, b.bottom), min(a.top, b.top)
    left, right = max(a.left, b.left), min(a.right, b.right)
    if high - low > SAME and abs(float(a.right - b.left)) <= SAME:
        return Point(a.right, high), Point(a.right, low)
    if high - low > SAME and abs(float(a.left - b.right)) <= SAME:
        return Point(a.left, low), Point(a.left, high)
    if right - left > SAME and abs(float(a.top - b.bottom)) <= SAME:
        return Point(left, a.top), Point(right, a.top)
    if right - left > SAME and abs(float(a.bottom - b.top)) <= SAME:
        return Point(right, a.bottom), Point(left, a.bottom)
    return None


def bridged(
    near: Pose, edge: tuple[Point, Point], panel: Panel, far: Pose, other: tuple[Point, Point]
) -> Pose:
    """Return the pose of *panel* that hangs on one edge, turned until it points to another.

    *edge* is where it hangs on the panel at *near*, *other* where it meets the one at *far*.
    """
    return pointed(
        near, edge, far.at(((other[0].x + other[1].x) / 2, (other[0].y + other[1].y) / 2))
    )


def pointed(near: Pose, edge: tuple[Point, Point], place: Place) -> Pose:
    """Return the pose of a panel hinged at *edge* of the one at *near*, turned towards a place."""
    x, y, z = (float(v) for v in near.inverse().at(place[:2], place[2]))
    start, end = edge
    dx, dy = float(end.x - start.x), float(end.y - start.y)
    length = math.hypot(dx, dy)
    aside = (dx * (y - float(start.y)) - dy * (x - float(start.x))) / length
    angle = math.degrees(math.atan2(z, aside))
    return near.compose(turn_about(start, end, angle))


# ------------------------------------------------------------------ turn-ins


def _turned_in(
    entry: BookPart, bench: Bench, joins: Sequence[Join], poses: Mapping[str, Pose]
) -> Iterator[BentPiece]:
    """Yield the pieces of panels that are folded round several panels with a place each."""
    part = bench.parts[entry.key].part
    heights = {join.panel: bench.height(join) for join in joins}
    apart = bench.calipers[entry.key] + bench.tape
    for line in part.folds:
        held, hanging = _held_first(line.key, poses)
        if not held or not hanging:
            continue
        strip = _beyond(part.panel(hanging), line.pieces)
        edge = shared_edge(part.panel(held), part.panel(hanging))
        if not strip or edge is None:
            continue
        lift = 2 * heights[held] if held in heights else apart
        raised = poses[held].compose(_raised(lift if line.angle_deg > 0 else -lift))
        yield BentPiece(hanging, strip, raised.compose(turn_about(*edge, line.angle_deg)))


def _held_first(key: FoldKey, poses: Mapping[str, Pose]) -> tuple[str, str]:
    """Return the panel of a fold that has a place and the one that has not; empty if not so."""
    first, second = key.first in poses, key.second in poses
    if first == second:
        return "", ""
    return (key.first, key.second) if first else (key.second, key.first)


def _beyond(panel: Panel, pieces: Iterable[Path]) -> Path | None:
    """Return what of a panel lies straight beyond a fold at its upper or lower edge."""
    line, box = bounds_of(pieces), panel.bounds()
    frame = Bounds(line.left, box.bottom, line.right, box.top)
    if line.width <= SAME:
        frame = Bounds(box.left, line.bottom, box.right, line.top)
    return cut_out(panel, frame)


def _raised(height: Number) -> Pose:
    return Pose(((1, 0, 0), (0, 1, 0), (0, 0, 1)), (0, 0, height))
