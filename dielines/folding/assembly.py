"""The closed book: every panel of every part in its place.

Joins are rigid placements, taken breadth first from the front board through the
pages to the back board. A join outside that tree reports by how much it misses.
The spine board and what covers boards and spine come after (`case_places`,
`case_covering`), then what is stuck on parts or lies in them (`hosts`).
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from ..bindings.bound import Join
from ..book.book import Book
from ..paths import Point
from ..rigid import Pose
from .bent_pieces import BentPiece
from .case_covering import covering
from .case_places import (
    BACK,
    FRONT,
    NEARLY,
    Case,
    case_of,
    closed_case,
    inside_heights,
    only,
    spine_key,
)
from .folded_part import FoldedPart
from .hosts import Host, bent_backing, coats_of, hosts_of, stuck_places
from .placing import Bench, Mismatch, lying, mismatch_of, quarters_of
from .tree_of_joins import in_frame, tree_of

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
    placed, tree = tree_of(book, bench)
    places: dict[str, dict[str, Pose]] = in_frame(book, bench, placed)
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
