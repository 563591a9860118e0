"""The closed book: every panel of every part in its place.

Joins are rigid placements, taken breadth first from the front board through the
pages to the back board. A join outside that tree reports by how much it misses.
The spine board and what covers boards and spine come after (`case_places`,
`case_covering`), then what is stuck on parts or lies in them (`hosts`).
"""

from __future__ import annotations

from collections import deque
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from ..bindings.bound import Join
from ..book.book import Book
from ..part import Part
from ..paths import Number, Point
from ..rigid import AT_REST, Pose
from .case_covering import BentPiece, covering
from .case_places import (
    BACK,
    COVERING,
    FRONT,
    NEARLY,
    Case,
    case_of,
    closed_case,
    inside_heights,
    moved,
    only,
    spine_key,
)
from .folded_part import FoldedPart
from .hosts import Host, bent_backing, coats_of, hosts_of, stuck_places
from .placing import Bench, Mismatch, lying, mismatch_of, quarters_of

__all__ = ["Assembly", "BentPiece", "Mismatch", "Places", "assembled"]

Places = Mapping[str, Mapping[str, Pose]]


@dataclass(frozen=True)
class Assembly:
    """Where everything is in the frame of the book (see `folded_book`), mm.

    *places* has the pose of each panel by the key of its part: flat part to book.
    Panels that lie round several boards at once (turn-ins, lining, and what backs
    them) have no pose of their own; they are in *bent*, in pieces.
    """

    places: Places
    mismatches: tuple[Mismatch, ...]
    loose: tuple[str, ...]  #: keys of parts that nothing holds to the front board
    bent: Mapping[str, tuple[BentPiece, ...]]
    tree: tuple[Join, ...]  #: the joins that placed the parts, in the order in which they did
    hosts: Mapping[str, Host]  #: what reinforcements and mats are stuck on, by key
    case: Case | None  #: the cover spread out flat; None where no wrap joins its boards
    bench: Bench

    def mismatch(self, part: str, zone: str) -> Mismatch | None:
        """Return the mismatch of the first join of a zone, None where it is in the tree."""
        for mismatch in self.mismatches:
            if (mismatch.join.part, mismatch.join.zone) == (part, zone):
                return mismatch
        return None


def assembled(book: Book, parts: Mapping[str, FoldedPart]) -> Assembly:
    """Return the closed book, channels upright, pages as thick as the channels keep them."""
    bench = bench_of(book, parts)
    placed, tree = _tree(book, bench)
    places: dict[str, dict[str, Pose]] = _in_frame(book, bench, placed)
    case = case_of(book, bench)
    onto_spine = [join for join in book.joins if join.onto_part == spine_key(book)]
    places.update(closed_case(book, bench, places, case, onto_spine))
    return dressed(book, bench, case, places, tree)


def bench_of(book: Book, parts: Mapping[str, FoldedPart]) -> Bench:
    """Return what places are worked out from."""
    calipers = {entry.key: Fraction(entry.stock.caliper.mm) for entry in book.parts}
    return Bench(parts, calipers, Fraction(book.tape.thickness.mm), coats_of(book))


def dressed(
    book: Book,
    bench: Bench,
    case: Case | None,
    places: dict[str, dict[str, Pose]],
    tree: tuple[Join, ...],
) -> Assembly:
    """Return the book with all that is stuck on its boards and parts, and with what misses."""
    covered, bent = covering(book, bench, case, places)
    places = {**places, **covered}
    hosts = hosts_of(book, bench.parts)
    places.update(stuck_places(book, bench.parts, hosts, places))
    bent.update(bent_backing(book, hosts, bent))
    loose = [entry.key for entry in book.parts if entry.key not in places and entry.key not in bent]
    misses = [*_mismatches(book, bench, places, tree)]
    if case is not None and BACK in places:
        misses = [_round_the_spine(bench, case, places, miss) for miss in misses]
    return Assembly(places, tuple(misses), tuple(loose), bent, tree, hosts, case, bench)


# ------------------------------------------------------------------ the tree of joins


def _tree(book: Book, bench: Bench) -> tuple[dict[str, Pose], tuple[Join, ...]]:
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


def _in_frame(book: Book, bench: Bench, placed: Mapping[str, Pose]) -> dict[str, dict[str, Pose]]:
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


# ------------------------------------------------------------------ what misses


def _mismatches(
    book: Book, bench: Bench, places: Places, tree: Sequence[Join]
) -> Iterator[Mismatch]:
    """Yield by how much each join misses that did not place a part, where both sides have a place.

    A cover tab did, but then its board slid towards the spine: that is its slack.
    """
    done = {id(join) for join in tree if join.onto_part not in (FRONT, BACK)}
    for join in book.joins:
        own, onto = places.get(join.part, {}), places.get(join.onto_part, {})
        if join.part == join.onto_part or id(join) in done:
            continue
        if join.panel in own and join.onto_panel in onto:
            yield _least_mismatch(bench, join, own[join.panel], onto[join.onto_panel])


def _least_mismatch(bench: Bench, join: Join, pose: Pose, target: Pose) -> Mismatch:
    """Return by how much a join misses, its zone turned by quarters so that it misses least."""
    zone, height = bench.zone_box(join), bench.height(join)
    found = []
    for quarter in quarters_of(join, zone):
        wanted = lying(join, zone, height, quarter)
        found.append(mismatch_of(join, zone, wanted, pose, target))
        if found[-1].angle_deg < NEARLY:
            break
    return min(found, key=lambda miss: (round(miss.angle_deg, 6), miss.in_plane))


def _round_the_spine(bench: Bench, case: Case, places: Places, mismatch: Mismatch) -> Mismatch:
    """Return the mismatch that closes the loop of the case, of the wrap onto the back board.

    Every panel of the wrap is placed by its own join, so this one has what the loop
    leaves: how far the boards stand at different heights, and, along the normal, the
    play: what the spine board is wider than the pages are thick.
    """
    if mismatch.join is not case.joins[BACK]:
        return mismatch
    front, back = only(places[FRONT]), only(places[BACK])
    askew = float(back.translation[1] - front.translation[1] - case.flat[BACK].translation[1])
    inside = inside_heights(bench, places)
    spine = float(bench.parts[case.spine].part.panels[0].bounds().width)
    return replace(
        mismatch,
        in_plane=abs(askew),
        along_normal=spine - (inside[1] - inside[0]),
        shift=Point(0.0, askew),
    )
