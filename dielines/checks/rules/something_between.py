"""Something other than tape lies between two panels that are joined."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

from ...bindings.bound import Join
from ...book.book import Book, BookPart
from ...book.join_words import listed
from ...book.request import Looks
from ...folding.folded_book import FoldedBook
from ...folding.folded_part import FoldedPart
from ...folding.placing import landing_box, middle
from ...folding.pockets import GRAFTED
from ...landing import land
from ...paths import Bounds, bounds_of, flattened
from ..finding import Advice, Amount, Finding, Severity, Spot
from ..seams import CONTACT, Seam, seams_of, shared_area, side_sign
from ..words import DistinctPart, and_others, distinct_parts, panel_words, part_words, shown

NAME = "something between"
WHY = (
    "Tape holds what it touches: a panel that lies between is what it glues instead. Cloth that is"
    " itself glued to the board does no harm; that is only told."
)
WORST = Severity.ERROR
SOURCE = (
    "geometry: the order of layers; areas above 1 mm2 count, and more than half of a zone is a warning"
    " (from memory)"
)

LEAST_AREA = 1.0  #: mm2
MOST = 0.5  #: share of a zone from which on it is held by what lies between, not by its target
COVERINGS = frozenset({"wrap", "lining", "edges"})  #: roles of what is glued to boards all over


def check(folded: FoldedBook) -> Iterator[Finding]:
    """Yield what lies between joined panels of a part, then between parts, then on the spine board."""
    for part in distinct_parts(folded):
        for seam in seams_of(part.folded):
            yield from _in_part(folded, part, seam)
    yield from _between_parts(folded)
    yield from _over_lining(folded)


# ------------------------------------------------------------------ in one part


def _in_part(folded: FoldedBook, part: DistinctPart, seam: Seam) -> Iterator[Finding]:
    zone, pages = seam.zone, part.folded
    here = side_sign(zone.side)
    there = pages.side_of(zone.onto, zone.panel)
    if pages.side_of(zone.panel, zone.onto) != here:
        return
    for name in pages.outlines:
        is_binding = name.startswith(GRAFTED) and seam.gap > CONTACT
        is_other = name not in (zone.panel, zone.onto) and not is_binding
        if is_other and pages.side_of(zone.panel, name) == here:
            area = _shared_area(part, seam, name) if pages.side_of(zone.onto, name) == there else 0
            if area > LEAST_AREA:
                yield _third_panel(folded, part, seam, name, area)


def _shared_area(part: DistinctPart, seam: Seam, name: str) -> float:
    """Return how much of the zone a panel covers, mm2."""
    from shapely import Polygon

    poses, zone = part.folded.poses, seam.zone
    lying = land(poses[name], poses[zone.panel], part.folded.outlines[name])
    if not lying.is_parallel:
        return 0.0
    if not _boxes_share(bounds_of([lying.path]), bounds_of([zone.path])):
        return 0.0
    shapes = [Polygon(flattened(path)).buffer(0) for path in (lying.path, zone.path)]
    return float(shapes[0].intersection(shapes[1]).area)


def _boxes_share(a: Bounds, b: Bounds) -> bool:
    return a.left < b.right and b.left < a.right and a.bottom < b.top and b.bottom < a.top


def _third_panel(
    folded: FoldedBook, part: DistinctPart, seam: Seam, name: str, area: float
) -> Finding:
    book, zone = folded.book, seam.zone
    third, carrier, onto = (panel_words(book, part.key, n) for n in (name, zone.panel, zone.onto))
    return Finding(
        Severity.ERROR,
        Spot(part.key, zone.panel, zone.path.points[0]),
        f"the {third} lies between the tape of the {carrier} and the {onto}{and_others(part.number)}",
        f"fold the {third} before or after both of them, or tape the {carrier} to the {third}",
        Amount(area, "mm2"),
    )


# ------------------------------------------------------------------ between parts


def _between_parts(folded: FoldedBook) -> Iterator[Finding]:
    """Yield two pages or strips that are taped to the same place, and tape on what is fastened there."""
    roles = {entry.key: entry.role for entry in folded.book.parts}
    taken: dict[tuple[str, str, object], list[Join]] = {}
    for join in folded.book.joins:
        if join.part != join.onto_part and roles[join.part] not in COVERINGS:
            before = taken.setdefault((join.onto_part, join.onto_panel, join.onto_side), [])
            yield from _same_place(folded, join, before)
            yield from _fastened_there(folded, join)
            before.append(join)


def _same_place(folded: FoldedBook, join: Join, before: Iterable[Join]) -> Iterator[Finding]:
    """Yield each kind of part, taped to the place before, on which the tape of *join* lands."""
    book, under = folded.book, dict[str, list[Join]]()
    for other in before:
        if other.part != join.part:
            under.setdefault(book.part(other.part).letter, []).append(other)
    for others in under.values():
        area = sum(shared_area(landing_box(join), landing_box(other)) for other in others)
        if area > LEAST_AREA:
            first, onto = part_words(book, others[0].part), part_words(book, join.onto_part)
            words = f"the tape of {part_words(book, join.part)} lands on {first}, taped to {onto} before"
            remedy = f"tape {first} on after it, over the edge of its tab, or move one of them"
            yield _joined(join, words, remedy, area)


def _fastened_there(folded: FoldedBook, join: Join) -> Iterator[Finding]:
    """Yield the panels of the target's own part that are taped flat over the place of a join.

    The end of a seam that is itself taped down does no harm to a tab over it.
    """
    book, target = folded.book, folded.parts[join.onto_part]
    for other in dict.fromkeys(_taped_flat_onto(target, join)):
        lying = land(target.poses[other], target.poses[join.onto_panel], target.outlines[other])
        area = shared_area(bounds_of([lying.path]), landing_box(join))
        if lying.is_parallel and area > MOST * float(join.width * join.height):
            words = panel_words(book, join.onto_part, other)
            onto, held = part_words(book, join.onto_part), part_words(book, join.part)
            message = f"the {words} of {onto} is taped over the place where {held} is to be held"
            found = _joined(join, message, f"tape it to the {words}, or to the other side", area)
            yield replace(found, advice=tuple(_turned(book, join.onto_part)))


def _turned(book: Book, key: str) -> Iterator[Advice]:
    """Yield the usual way for a page to look, where the book has turned it: the other side is free."""
    for page in book.request.pages:
        if key == f"page-{page.number}" and page.looks is not Looks.MIDDLE:
            yield Advice(f"page.{page.number}.looks", Looks.MIDDLE.value)


def _taped_flat_onto(target: FoldedPart, join: Join) -> Iterator[str]:
    """Yield the panels that are taped to the target of a join on the side where it is taped."""
    sign = side_sign(join.onto_side)
    for seam in seams_of(target):
        pair = {seam.zone.panel, seam.zone.onto}
        if join.onto_panel in pair and seam.gap <= CONTACT:
            (other,) = pair - {join.onto_panel}
            if target.side_of(join.onto_panel, other) == sign:
                yield other


def _joined(join: Join, message: str, remedy: str, area: float) -> Finding:
    is_most = area > MOST * float(join.width * join.height)
    return Finding(
        Severity.WARNING if is_most else Severity.REMARK,
        Spot(join.onto_part, join.onto_panel, middle(landing_box(join))),
        message,
        remedy,
        Amount(area, "mm2"),
    )


# ------------------------------------------------------------------ on the spine board


def _over_lining(folded: FoldedBook) -> Iterator[Finding]:
    """Yield, once a book, how much of the channels' tape lands on the lining of the spine board."""
    entries = {entry.key: entry for entry in folded.book.parts}
    covers = [j for j in folded.book.joins if entries[j.part].role in COVERINGS]
    for lining in covers:
        if entries[lining.part].role == "lining" and lining.onto_part == "spine-board":
            over = list(_taped_over(folded.book.joins, entries, lining))
            if over:
                yield _on_lining(folded, lining, over, _turn_ins(covers, lining))


def _taped_over(
    joins: Iterable[Join], entries: dict[str, BookPart], lining: Join
) -> Iterator[Join]:
    place = (lining.onto_part, lining.onto_panel, lining.onto_side)
    for join in joins:
        is_there = (join.onto_part, join.onto_panel, join.onto_side) == place
        shares = shared_area(landing_box(join), landing_box(lining)) > LEAST_AREA
        if is_there and shares and entries[join.part].role not in COVERINGS:
            yield join


def _turn_ins(covers: Iterable[Join], lining: Join) -> list[Join]:
    place = (lining.onto_part, lining.onto_panel, lining.onto_side)
    return [
        j
        for j in covers
        if j.part != lining.part and (j.onto_part, j.onto_panel, j.onto_side) == place
    ]


def _on_lining(folded: FoldedBook, lining: Join, over: list[Join], turn_ins: list[Join]) -> Finding:
    book, taped = folded.book, over[0]
    bottom, top = taped.offset.y, taped.offset.y + taped.height
    lined = min(top, lining.offset.y + lining.height) - max(bottom, lining.offset.y)
    rest = taped.height - lined
    ends = "the turn-ins" if turn_ins else "the board"
    words = listed(
        [f"{shown(book, lined)} on the lining"]
        + ([f"{shown(book, rest)} on {ends}"] if rest > 0 else [])
    )
    return Finding(
        Severity.REMARK,
        Spot(lining.onto_part, lining.onto_panel),
        f"the channels are held by the lining of the spine, not by its board: of"
        f" {shown(book, taped.height)} of tape on each of {len(over)} channels, {words}",
        "nothing to change, but glue the lining down well before the channels go onto it",
        Amount(lined),
    )
