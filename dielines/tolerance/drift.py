"""How far every panel is off its place in the closed book, by each error of the hand.

Everything hangs on the boards, by tape from part to part and by folds within a
part. What this assumes of the hand (usual ways of working, no source):

- a part is laid where its tape is drawn, so that a score which is off moves all that
  lies beyond it;
- on a part without folds, such as a board, a place is measured from the nearest edge
  and found by the free edge of what is laid there, so that both of these cuts count;
- parts are kept parallel while they are laid;
- tape between a channel and the spine follows the pages and moves none of them; but a
  part that is taped to the spine in several places lies against it at each of them.
"""

from __future__ import annotations

from collections import defaultdict, deque
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from ..bindings.bound import Join
from ..hinges import Hinge, skeleton
from ..part import Part
from ..rigid import Pose
from .datum import Datum
from .hand_error import NOTHING, ErrorKind, HandError
from .standing import (
    SIDES,
    Border,
    Flat,
    Score,
    Standing,
    Vector,
    lies_like_pages,
    side_of,
    turned,
    turned_back,
)

Drift = Mapping[HandError, Vector]
"""How far something is off its place in the book, mm for each mm of an error."""

BOARDS = "boards"  #: the role of what everything hangs on
AXES: Mapping[str, tuple[str, str]] = {"x": ("left", "right"), "y": ("bottom", "top")}


@dataclass(frozen=True)
class Held:
    """A part in its place: the board that it hangs on, how each of its panels is off."""

    board: str
    panels: Mapping[str, Drift]


@dataclass(frozen=True)
class Hanging:
    """Everything that hangs on the boards; *tree* are the joins that hold it, in order."""

    held: Mapping[str, Held]
    tree: tuple[Join, ...]

    def drift(self, part: str, panel: str) -> Drift | None:
        """Return how a panel is off its place, None where nothing holds it."""
        return self.held[part].panels.get(panel) if part in self.held else None


@dataclass
class _Growing:
    """What has been hung so far; *first* is how the first page of each board is off."""

    standing: Standing
    datum: Datum
    held: dict[str, Held]
    tree: list[Join] = field(default_factory=list)
    first: dict[str, Drift] = field(default_factory=dict)


def hanging(standing: Standing, datum: Datum = Datum.NEIGHBOUR) -> Hanging:
    """Return all that hangs on the boards by joins that lie like pages, breadth first.

    With another *datum* than its neighbour a page is laid by its own edges: as the
    first page of its board lies, or as a jig on that board has it.
    """
    around = _joins_around(standing)
    boards = _boards(standing)
    growing = _Growing(standing, datum, {key: Held(key, {panel: {}}) for key, panel in boards})
    waiting = deque(growing.held)
    while waiting:
        key = waiting.popleft()
        for join in around[key]:
            other = join.onto_part if join.part == key else join.part
            if other not in growing.held:
                _hang(growing, join, key, other)
                waiting.append(other)
    return Hanging(growing.held, tuple(growing.tree))


def _boards(standing: Standing) -> Iterator[tuple[str, str]]:
    for entry in standing.book.parts:
        panel = entry.part.panels[0].name
        if entry.role == BOARDS and standing.is_page_like(entry.key, panel):
            yield entry.key, panel


def _joins_around(standing: Standing) -> Mapping[str, list[Join]]:
    """Return the joins between two parts that lie like pages, by the key of each of them."""
    around: dict[str, list[Join]] = defaultdict(list)
    for join in standing.book.joins:
        ends = ((join.part, join.panel), (join.onto_part, join.onto_panel))
        if join.part != join.onto_part and all(standing.is_page_like(*end) for end in ends):
            around[join.part].append(join)
            around[join.onto_part].append(join)
    return around


def _hang(growing: _Growing, join: Join, holder: str, key: str) -> None:
    """Hang the part *key* on *holder* by *join*."""
    standing, held = growing.standing, growing.held[holder]
    laid = plus(taped(standing, join), _measured(standing, join))
    if key == join.part:
        start, drift = join.panel, plus(held.panels[join.onto_panel], laid)
    else:
        start, drift = join.onto_panel, plus(held.panels[join.panel], laid, -1)
    panels = _spread(standing, key, start, drift)
    bound = bound_panel(standing.parts[key])
    if bound in panels:
        moved = _aligned(growing, join, held.board, panels[bound])
        panels = {name: plus(old, moved) for name, old in panels.items()} if moved else panels
        growing.first.setdefault(held.board, panels[bound])
    growing.held[key] = Held(held.board, panels)
    growing.tree.append(join)


def _aligned(growing: _Growing, join: Join, board: str, drift: Drift) -> Drift:
    """Return what moves a page that is off by *drift* to where its datum has it, in its plane."""
    is_first = board not in growing.first
    if growing.datum is Datum.NEIGHBOUR or (growing.datum is Datum.FIRST and is_first):
        return {}
    wanted = taped(growing.standing, join)
    if growing.datum is Datum.FIRST:
        wanted = plus(growing.first[board], wanted)
    moved = plus(wanted, drift, -1)
    return {error: (x, y, 0.0) for error, (x, y, _) in moved.items()}


def bound_panel(part: Part) -> str:
    """Return the panel of a page at whose edge it is bound, empty for what is no page."""
    return part.bound.panel.split(" ")[0] if part.bound else ""


def plus(drift: Drift, other: Drift, factor: float = 1) -> Drift:
    """Return *drift* with *factor* times *other*."""
    summed = dict(drift)
    for error, (dx, dy, dz) in other.items():
        x, y, z = summed.get(error, (0.0, 0.0, 0.0))
        summed[error] = (x + factor * dx, y + factor * dy, z + factor * dz)
    return summed


def along(drift: Drift, direction: Vector, factor: float = 1) -> dict[HandError, float]:
    """Return *factor* times what of *drift* goes in a direction of the book."""
    x, y, z = direction
    found = {e: factor * (dx * x + dy * y + dz * z) for e, (dx, dy, dz) in drift.items()}
    return {error: share for error, share in found.items() if abs(share) > NOTHING}


# ------------------------------------------------------------------ laying one part on another


def taped(standing: Standing, join: Join) -> Drift:
    """Return how tape that is off its place moves what it holds, along both axes of the target."""
    pose = _pose(standing, join.onto_part, join.onto_panel)
    return {
        HandError(ErrorKind.TAPE, join.part, join.zone, axis): turned(pose, SIDES[sides[1]])
        for axis, sides in AXES.items()
    }


def _measured(standing: Standing, join: Join) -> Drift:
    """Return what cuts add where a place is measured on a part without folds, else nothing."""
    if standing.scores[join.onto_part]:
        return {}
    drift: Drift = {}
    target = _pose(standing, join.onto_part, join.onto_panel)
    for low, high in AXES.values():
        outward = SIDES[_nearer(standing, join, low, high)]
        edge = standing.border(join.onto_part, join.onto_panel, outward)
        drift = plus(drift, edge_drift(join.onto_part, target, edge))
        drift = plus(drift, _free_edge(standing, join, turned(target, outward)), -1)
    return drift


def _nearer(standing: Standing, join: Join, low: str, high: str) -> str:
    """Return the side of the target from which the tape lies less far."""
    box = standing.parts[join.onto_part].panel(join.onto_panel).bounds()
    at = (join.offset.x, join.offset.y)[low == "bottom"]
    size = (join.width, join.height)[low == "bottom"]
    before = float(at) + side_of(box, SIDES[low])
    behind = side_of(box, SIDES[high]) - float(at + size)
    return low if before <= behind + 1e-6 else high


def _free_edge(standing: Standing, join: Join, direction: Vector) -> Drift:
    """Return how the edge is off by which the joined panel is laid: a cut one, if it has any."""
    pose = _pose(standing, join.part, join.panel)
    x, y = turned_back(pose, direction)
    edges = [standing.border(join.part, join.panel, outward) for outward in ((x, y), (-x, -y))]
    chosen = next((edge for edge in edges if edge.score is None), edges[0])
    return edge_drift(join.part, pose, chosen)


def edge_drift(part: str, pose: Pose, edge: Border) -> Drift:
    """Return how an edge is off its place on its own part: by its cut, or by its score."""
    if edge.score:
        return score_drift(part, edge.score, pose)
    side = _side_words(edge.outward)
    error = HandError(ErrorKind.CUT, part, f"{side} edge at {edge.at:.3f}")
    return {error: turned(pose, edge.outward)}


def score_drift(part: str, score: Score, pose: Pose) -> Drift:
    """Return how the line of a score is off its place on a panel with this pose."""
    return {HandError(ErrorKind.SCORE, part, score.name): turned(pose, score.normal)}


def _side_words(outward: Flat) -> str:
    return max(
        SIDES, key=lambda side: sum(a * b for a, b in zip(SIDES[side], outward, strict=True))
    )


def _pose(standing: Standing, part: str, panel: str) -> Pose:
    return standing.places[part][panel]


# ------------------------------------------------------------------ within a part


def _spread(standing: Standing, key: str, start: str, drift: Drift) -> dict[str, Drift]:
    """Return how all panels of a part are off when *start* is off by *drift*.

    A panel beyond a fold whose score is off by e n (n its normal) is off by
    (A - B) n e more, where A and B turn the panels before and beyond it.
    """
    part, poses = standing.parts[key], standing.places[key]
    outlines = {panel.name: panel.outline for panel in part.panels}
    against = _against(standing, key)
    panels = {start: drift}
    for link in skeleton(outlines, part.lines, start, part.rigid).links:
        if link.parent in panels and link.child in poses:
            moved = _bent(standing, key, link.hinge) if link.hinge else {}
            off = plus(panels[link.parent], moved) if moved else panels[link.parent]
            normal = against.get(link.child)
            panels[link.child] = _levelled(off, normal) if normal else off
    return panels


def _against(standing: Standing, key: str) -> Mapping[str, Vector]:
    """Return the panels of a part that lie against the spine in several places, with its normal."""
    found = {}
    for join in standing.book.joins:
        pose = standing.pose(join.onto_part, join.onto_panel)
        is_spine = pose is not None and standing.roles[join.onto_part] == BOARDS
        if join.part == key and pose and is_spine and not lies_like_pages(pose):
            x, y, z = pose.normal
            found[join.panel] = (float(x), float(y), float(z))
    return found if len(found) > 1 else {}


def _levelled(drift: Drift, normal: Vector) -> Drift:
    """Return *drift* without what goes along *normal*."""
    levelled = {}
    for error, vector in drift.items():
        across = sum(a * b for a, b in zip(vector, normal, strict=True))
        x, y, z = (a - across * b for a, b in zip(vector, normal, strict=True))
        levelled[error] = (x, y, z)
    return levelled


def _bent(standing: Standing, key: str, hinge: Hinge) -> Drift:
    score = standing.scores[key][hinge.key]
    before = score_drift(key, score, _pose(standing, key, hinge.parent))
    beyond = score_drift(key, score, _pose(standing, key, hinge.child))
    moved = plus(before, beyond, -1)
    return {e: v for e, v in moved.items() if max(map(abs, v)) > NOTHING}
