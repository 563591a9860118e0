"""The tree of joins: parts placed breadth first, each by one join, from the front board on."""

from __future__ import annotations

from collections import deque
from collections.abc import Mapping, Sequence
from fractions import Fraction

from ..bindings.bound import Join
from ..book.book import Book
from ..part import Part
from ..paths import Number
from ..rigid import AT_REST, Pose
from .case_places import BACK, COVERING, FRONT, moved, spine_key
from .placing import Bench, lying, mismatch_of, quarters_of


def tree_of(book: Book, bench: Bench) -> tuple[dict[str, Pose], tuple[Join, ...]]:
    """Return the pose of each part's root that hangs on the front board, and the joins that did it."""
    around = _joins_around(book)
    placed, tree = {FRONT: AT_REST}, []
    waiting = deque([FRONT] if FRONT in around else [])
    while waiting:
        key = waiting.popleft()
        for join in around[key]:
            other = join.onto_part if join.part == key else join.part
            if other not in placed:
                chosen = _carrying(bench, other, join, around[key])
                placed[other] = _hung(bench, chosen, placed, other, around[key])
                tree.append(chosen)
                waiting.append(other)
    return placed, tuple(tree)


def _carrying(bench: Bench, other: str, first: Join, fellows: Sequence[Join]) -> Join:
    """Return the join of the same two parts by which most of *other* hangs; of equals the first.

    Where a strip is folded round the end of another, its outer half carries the rest.
    """
    pair = {first.part, first.onto_part}
    choices = [join for join in fellows if {join.part, join.onto_part} == pair]
    if len(choices) == 1:
        return first
    panels = {id(j): j.panel if j.part == other else j.onto_panel for j in choices}
    part = bench.parts[other].part
    return max(choices, key=lambda j: _carried(part, panels[id(j)], set(panels.values())))


def _carried(part: Part, panel: str, joined: set[str]) -> int:
    """Return how many panels hang on *panel* without the others that are joined."""
    ties = [tuple(line.key.panels()) for line in part.folds] + list(part.rigid)
    seen, waiting = {panel}, [panel]
    while waiting:
        here = waiting.pop()
        for tie in ties:
            for name in set(tie) - seen - joined if here in tie else ():
                seen.add(name)
                waiting.append(name)
    return len(seen)


def _joins_around(book: Book) -> dict[str, list[Join]]:
    """Return the joins between parts, by both parts; those of the spine and its covering left out."""
    apart = {entry.key for entry in book.parts if entry.role in COVERING} | {spine_key(book)}
    around: dict[str, list[Join]] = {}
    for join in book.joins:
        if join.part != join.onto_part and not {join.part, join.onto_part} & apart:
            around.setdefault(join.part, []).append(join)
            around.setdefault(join.onto_part, []).append(join)
    return around


def _hung(
    bench: Bench, join: Join, placed: Mapping[str, Pose], other: str, fellows: Sequence[Join]
) -> Pose:
    """Return the pose of the root of *other*, which hangs by *join* on a part that is placed."""
    lies = lying(join, bench.zone_box(join), bench.height(join), _quarter(bench, join, fellows))
    own, target = (
        bench.parts[join.part].poses[join.panel],
        bench.parts[join.onto_part].poses[join.onto_panel],
    )
    if other == join.part:
        return placed[join.onto_part].compose(target).compose(lies).compose(own.inverse())
    held = placed[join.part].compose(own)
    return held.compose(lies.inverse()).compose(target.inverse())


def _quarter(bench: Bench, join: Join, fellows: Sequence[Join]) -> int:
    """Return how the zone lies turned: so that the part stands upright on its target.

    Where the two parts have more joins, so that those miss least. Like sides can lie
    turned over about an upright axis, as the tab of a page does, or about a level one,
    as the hinge of a card does that hangs from its upper edge.
    """
    pair = {join.part, join.onto_part}
    others = [j for j in fellows if j is not join and {j.part, j.onto_part} == pair]
    zone, height = bench.zone_box(join), bench.height(join)

    def judged(quarter: int) -> tuple[float, float]:
        lies = lying(join, zone, height, quarter)
        missed = sum(_missed(bench, join, lies, other) for other in others)
        return round(missed, 3), -round(_uprightness(bench, join, lies), 6)

    return min(quarters_of(join, zone), key=judged)


def _uprightness(bench: Bench, join: Join, lies: Pose) -> float:
    """Return 1 where up on the joined part is up on its target, -1 where it stands on its head."""
    own, onto = bench.parts[join.part].poses, bench.parts[join.onto_part].poses
    root = onto[join.onto_panel].compose(lies).compose(own[join.panel].inverse())
    return float(root.rotation[1][1])


def _missed(bench: Bench, join: Join, lies: Pose, other: Join) -> float:
    """Return by how much *other*, between the same parts, misses when *join* lies so."""
    if other.part != join.part:
        return 0.0
    own, onto = bench.parts[join.part].poses, bench.parts[join.onto_part].poses
    root = onto[join.onto_panel].compose(lies).compose(own[join.panel].inverse())
    zone = bench.zone_box(other)
    wanted = lying(other, zone, bench.height(other))
    pose, target = root.compose(own[other.panel]), onto[other.onto_panel]
    return mismatch_of(other, zone, wanted, pose, target).in_plane


def in_frame(book: Book, bench: Bench, placed: Mapping[str, Pose]) -> dict[str, dict[str, Pose]]:
    """Return the places of all panels, moved into the frame of the book."""
    x, y = _origin(book, bench, placed)
    z = _inside_of_back(bench, placed)
    found = {}
    for entry in book.parts:
        if entry.key in placed:
            root = moved(placed[entry.key], -x, -y, -z)
            poses = bench.parts[entry.key].poses
            found[entry.key] = {name: root.compose(pose) for name, pose in poses.items()}
    return found


def _origin(book: Book, bench: Bench, placed: Mapping[str, Pose]) -> tuple[Number, Number]:
    """Return where the binding edge of the first page has its foot."""
    for entry in book.parts:
        bound = entry.part.bound
        if bound is not None and entry.key in placed:
            pose = placed[entry.key].compose(
                bench.parts[entry.key].poses[bound.panel.split(" ")[0]]
            )
            ends = [pose.at(end) for end in (bound.start, bound.end)]
            return ends[0][0], min(ends[0][1], ends[1][1])
    return Fraction(0), Fraction(0)


def _inside_of_back(bench: Bench, placed: Mapping[str, Pose]) -> Number:
    """Return the height of the inside of the back board; without one, that of the lowest part."""
    if BACK in placed:
        return placed[BACK].translation[2] + bench.calipers[BACK] / 2
    heights = [placed[key].translation[2] - bench.calipers[key] / 2 for key in placed]
    return min(heights, default=Fraction(0))
