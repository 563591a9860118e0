"""Tape that nothing covers in the finished book, or that lies near an edge which shows."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any, NamedTuple

from ...bindings.bound import Join
from ...book.inserts import ROLE as INSERTS
from ...folding.folded_book import FoldedBook
from ...folding.folded_part import FoldedPart
from ...folding.keeping import kept_with
from ...folding.lids import motion_to
from ...folding.placing import landing_box, middle
from ...landing import land
from ...lengths import inches, millimetres
from ...part import Side, Zone
from ...paths import bounds_of, flattened, magnitude, signed_area
from ..finding import Advice, Amount, Finding, Severity, Spot
from ..seams import CONTACT, NEAR, seams_of, shared_area, side_sign
from ..words import DistinctPart, and_others, and_places, distinct_parts, panel_words, shown

NAME = "tape shows"
WHY = (
    "Tape that nothing covers sticks to the next page and gathers dust; where it ends close to an edge"
    " that shows, it creeps out with time."
)
WORST = Severity.ERROR
SOURCE = "geometry; 1/16 in (1.5 mm) from edges that show is from memory"

LEAST_SHARE = 0.002  #: of a zone; less is rounding
MARGIN = millimetres("1.5")  #: 1/16 in, as a book in millimetres rounds it
USUAL = {"in": inches("1/8"), "mm": millimetres(3)}  #: both margins of a tab together
SAGITTA = 0.02  #: mm, how far a chord lies from its arc
COVERINGS = frozenset({"wrap", "lining", "edges"})  #: roles of cloth that is glued all over
HIDDEN = frozenset({"spine-board"})  #: what is taped to it lies inside the spine


def check(folded: FoldedBook) -> Iterator[Finding]:
    """Yield each zone that is not wholly covered, then each part with tape too near to an edge."""
    joins: dict[tuple[str, str], list[Join]] = {}
    onto: dict[tuple[str, str, Side], list[Join]] = {}
    for join in folded.book.joins:
        if join.part != join.onto_part:
            joins.setdefault((join.part, join.zone), []).append(join)
            onto.setdefault((join.onto_part, join.onto_panel, join.onto_side), []).append(join)
    for part in distinct_parts(folded):
        for zone in _joined_zones(part):
            lands, comes = (part.key, zone.name), (part.key, zone.panel, zone.side)
            share = _bare_share(part.folded, zone, joins.get(lands, ()), onto.get(comes, ()))
            if share > LEAST_SHARE:
                yield _bare(folded, part, zone, share)
        if part.entry.role not in COVERINGS:
            near = list(_near_edges(part.folded, _seen(part, joins)))
            if near:
                yield _near(folded, part, near)


# ------------------------------------------------------------------ tape that nothing covers


def _joined_zones(part: DistinctPart) -> Iterator[Zone]:
    """Yield the zones of a part; of an insert its seams: the rest is for whatever it is put onto."""
    for zone in part.part.zones:
        if part.entry.role != INSERTS or zone.onto in part.folded.outlines:
            yield zone


def _bare_share(
    folded: FoldedPart, zone: Zone, lands: Sequence[Join], comes: Sequence[Join]
) -> float:
    """Return which share of a zone nothing covers.

    *lands* are the joins of the zone, *comes* those of other parts that land on its side.
    """
    if zone.onto in folded.outlines:
        bare = _bare_of_seam(folded, zone)
    else:
        box = bounds_of([zone.path])
        covered = sum(float(join.width * join.height) for join in lands)
        covered += sum(shared_area(box, landing_box(join)) for join in comes)
        bare = 1 - covered / float(box.width * box.height)
    if bare <= LEAST_SHARE:
        return 0.0
    return _uncovered(folded, zone, bare)


def _bare_of_seam(folded: FoldedPart, zone: Zone) -> float:
    seam = next(seam for seam in seams_of(folded) if seam.zone is zone)
    area = float(magnitude(signed_area(zone.path))) or 1.0
    return float(seam.landing.overhang.area) / area if seam.landed.is_parallel else 1.0


def _uncovered(folded: FoldedPart, zone: Zone, bare: float) -> float:
    """Return the share that stays bare when panels of the part that lie on the zone are counted."""
    from shapely import Polygon, union_all

    tape = Polygon(flattened(zone.path, SAGITTA))
    over = [_lying(folded, name, zone.panel) for name in _panels_on(folded, zone)]
    left = tape.difference(union_all(over)).area / tape.area if over else 1.0
    return min(bare, float(left))


def _panels_on(folded: FoldedPart, zone: Zone) -> Iterator[str]:
    """Yield the panels that lie on the side of a zone, so near that they touch it."""
    for name in folded.outlines:
        if folded.side_of(zone.panel, name) == side_sign(zone.side):
            lying = land(folded.poses[name], folded.poses[zone.panel], folded.outlines[name])
            if lying.is_parallel and abs(float(lying.distance)) <= CONTACT:
                yield name


def _lying(folded: FoldedPart, name: str, onto: str) -> Any:
    from shapely import Polygon

    motion = motion_to(folded, onto, name)
    corners = [motion.at(point)[:2] for point in flattened(folded.outlines[name], SAGITTA)]
    return Polygon([(float(x), float(y)) for x, y in corners]).buffer(NEAR)


def _bare(folded: FoldedBook, part: DistinctPart, zone: Zone, share: float) -> Finding:
    book = folded.book
    what = "all" if share > 1 - LEAST_SHARE else f"{100 * share:.0f} %"
    return Finding(
        Severity.ERROR,
        Spot(part.key, zone.panel, middle(bounds_of([zone.path]))),
        f"{what} of the tape on the {zone.side.value} of the"
        f" {panel_words(book, part.key, zone.panel)} stays bare: nothing lands on"
        f" it{and_others(part.number)}",
        "take that tape away, or join something to it",
        Amount(share, "1"),
    )


# ------------------------------------------------------------------ tape near an edge


class _Near(NamedTuple):
    margin: float
    zone: Zone


def _seen(part: DistinctPart, joins: Mapping[tuple[str, str], list[Join]]) -> Iterator[Zone]:
    """Yield the zones of a part that hold something and do not lie inside the spine."""
    own = {seam.zone.name for seam in seams_of(part.folded)}
    for zone in part.part.zones:
        targets = {join.onto_part for join in joins.get((part.key, zone.name), ())}
        if zone.name in own or (targets and not targets & HIDDEN):
            yield zone


def _near_edges(folded: FoldedPart, zones: Iterable[Zone]) -> Iterator[_Near]:
    """Yield the zones nearer than the margin to a cut edge of their panel, or of the target."""
    from shapely import Polygon

    for zone in zones:
        places = [(zone.path, zone.panel)]
        if zone.onto in folded.outlines:
            poses = folded.poses
            landed = land(poses[zone.panel], poses[zone.onto], zone.path)
            is_on = landed.is_parallel and _bare_of_seam(folded, zone) <= LEAST_SHARE
            places += [(landed.path, zone.onto)] if is_on else []
        margins = [
            Polygon(flattened(path, SAGITTA)).distance(_free_edges(folded, panel))
            for path, panel in places
        ]
        if min(margins) < float(MARGIN.mm) - NEAR:
            yield _Near(float(min(margins)), zone)


def _free_edges(folded: FoldedPart, panel: str) -> Any:
    """Return what of the outline of a panel is cut; kept with the part."""
    return kept_with(folded, ("free edges", panel), lambda: _cut_edges(folded, panel))


def _cut_edges(folded: FoldedPart, panel: str) -> Any:
    from shapely import LinearRing, MultiLineString

    edge = LinearRing(flattened(folded.outlines[panel], SAGITTA))
    pieces = [
        flattened(piece, SAGITTA)
        for line in folded.part.folds
        if panel in line.key.panels()
        for piece in line.pieces
    ]
    return edge.difference(MultiLineString(pieces).buffer(0.02)) if pieces else edge


def _near(folded: FoldedBook, part: DistinctPart, near: Sequence[_Near]) -> Finding:
    book, nearest = folded.book, min(near, key=lambda n: n.margin)
    zone = nearest.zone
    lacks = float(MARGIN.mm) - nearest.margin
    return Finding(
        Severity.REMARK,
        Spot(part.key, zone.panel, middle(bounds_of([zone.path]))),
        f"tape on the {panel_words(book, part.key, zone.panel)} ends"
        f" {shown(book, nearest.margin)} from an edge that shows{and_places(len(near))}{and_others(part.number)}",
        f"end it {shown(book, lacks)} farther in",
        Amount(lacks),
        tuple(_advice(folded)),
    )


def _advice(folded: FoldedBook) -> Iterator[Advice]:
    """Yield the usual margin, where the book has set a smaller one."""
    usual, book = USUAL[folded.book.units], folded.book
    if "tape_margin" in book.reasons.by_name and book.reasons.length("tape_margin") < usual:
        yield Advice("usual.tape_margin", usual)
