"""Tape lies on the side of a panel that does not look at what it is to hold."""

from __future__ import annotations

from collections.abc import Iterator

from ...bindings.bound import Join
from ...folding.folded_book import FoldedBook
from ...part import Side, Zone
from ...rigid import Pose
from ..finding import Amount, Finding, Severity, Spot
from ..seams import CONTACT, Seam, seams_of, side_sign
from ..words import DistinctPart, and_others, distinct_parts, panel_words, part_words

NAME = "tape faces away"
WHY = (
    "Which side of a seam carries the tape follows from the order of folding: of a seam that is folded"
    " first, the side that looks away from the front panel; of one that is folded last, the other."
)
WORST = Severity.ERROR
SOURCE = "geometry: the order of layers; 2.5 mm from memory"

PRESSED = 2.5  #: mm; a seam that misses the plane of its target by less is pressed onto it

_OTHER = {Side.FACE: Side.REVERSE, Side.REVERSE: Side.FACE}


def check(folded: FoldedBook) -> Iterator[Finding]:
    """Yield each zone of tape that looks away from its target, in a part and between parts."""
    for part in distinct_parts(folded):
        for seam in seams_of(part.folded):
            if _looks_away(part, seam):
                yield _own(folded, part, seam)
    yield from _between_parts(folded)


def _looks_away(part: DistinctPart, seam: Seam) -> bool:
    """Return whether the target lies on the other side; False where the order is not known.

    Gussets that differ a little put a seam on the wrong side of its target by their heights
    alone; pressed down it is not, so that is left to the rule of seams off target.
    """
    zone = seam.zone
    if seam.gap > CONTACT:
        return seam.gap > PRESSED and seam.landing.is_facing is False
    side = part.folded.side_of(zone.panel, zone.onto)
    return bool(side) and side != side_sign(zone.side)


def _own(folded: FoldedBook, part: DistinctPart, seam: Seam) -> Finding:
    zone = seam.zone
    onto = panel_words(folded.book, part.key, zone.onto)
    return _finding(
        folded,
        part.key,
        zone,
        f"the tape on the {zone.side.value} of the {panel_words(folded.book, part.key, zone.panel)}"
        f" looks away from the {onto} that it is to hold{and_others(part.number)}",
        f"put it on the {_OTHER[zone.side].value}, or fold the two in the other order",
    )


def _finding(folded: FoldedBook, key: str, zone: Zone, message: str, remedy: str) -> Finding:
    points = zone.path.points
    return Finding(
        Severity.ERROR, Spot(key, zone.panel, points[0]), message, remedy, Amount(180, "degrees")
    )


# ------------------------------------------------------------------ between parts


def _between_parts(folded: FoldedBook) -> Iterator[Finding]:
    """Yield the zones that do not look at the side of the part that they are joined to."""
    told = set()
    zones = {(e.key, z.name): z for e in folded.book.parts for z in e.part.zones}
    for join in folded.book.joins:
        zone = zones.get((join.part, join.zone))
        if join.part == join.onto_part or zone is None:
            continue
        letters = (folded.book.part(join.part).letter, join.zone)
        if letters not in told and (zone.side is not join.side or _is_turned(folded, join)):
            told.add(letters)
            yield _joined(folded, join, zone)


def _is_turned(folded: FoldedBook, join: Join) -> bool:
    """Return whether, in the closed book, tape and target look the same way."""
    places = folded.assembly.places
    own = places.get(join.part, {}).get(join.panel)
    onto = places.get(join.onto_part, {}).get(join.onto_panel)
    if own is None or onto is None:
        return False
    return side_sign(join.side) * side_sign(join.onto_side) * _same_way(own, onto) > 0.5


def _same_way(a: Pose, b: Pose) -> float:
    """Return the cosine of the angle between the faces of two panels."""
    return sum(float(x) * float(y) for x, y in zip(a.normal, b.normal, strict=True))


def _joined(folded: FoldedBook, join: Join, zone: Zone) -> Finding:
    book = folded.book
    carrier = panel_words(book, join.part, join.panel)
    return _finding(
        folded,
        join.part,
        zone,
        f"the tape on the {zone.side.value} of its {carrier} looks away from"
        f" {part_words(book, join.onto_part)} that it is to hold",
        f"put it on the {_OTHER[zone.side].value}",
    )
