"""Flaps that close towards each other meet, or lie in one place without an order."""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import combinations
from typing import Any, NamedTuple

from ...folding.folded_book import FoldedBook
from ...folding.folded_part import FoldedPart
from ...folding.pockets import GRAFTED
from ...landing import land
from ...lengths import Length, inches, millimetres
from ...part import Line, LineKind
from ...paths import Bounds, Point, bounds_of, flattened
from ..finding import Advice, Amount, Finding, Severity, Spot
from ..words import DistinctPart, and_others, distinct_parts, panel_words, shown

NAME = "flaps collide"
WHY = (
    "Flaps that close towards each other in one plane need a gap, or their edges push each other up;"
    " flaps that lie over each other need steps that say which goes first."
)
WORST = Severity.ERROR
SOURCE = (
    "geometry; the gap of 1/32 in, and that flaps which overlap by less than 3/8 in are meant to meet,"
    " are from memory"
)

GAP = inches("1/32")
LAP = inches("3/8")  #: opposite flaps that overlap by more are meant to lie over each other
IN_PLANE = 0.01  #: mm
SAME = 0.001  #: mm


class Flap(NamedTuple):
    """A panel that hangs on one fold, with the direction in space in which it points from there."""

    name: str
    way: tuple[float, float, float]


class Meeting(NamedTuple):
    """Two flaps in one plane: the gap between them (mm, below 0 where they overlap)."""

    first: str
    second: str
    gap: float
    are_opposite: bool
    are_raised: bool  #: whether gussets hold them off what they close over


def check(folded: FoldedBook) -> Iterator[Finding]:
    """Yield flaps of a part that meet or overlap and should not."""
    for part in distinct_parts(folded):
        for meeting in _meetings(part.folded):
            if meeting.gap < -SAME and not part.folded.side_of(meeting.first, meeting.second):
                yield _without_order(folded, part, meeting)
            elif meeting.are_opposite and _is_too_near(meeting):
                yield _too_near(folded, part, meeting)


def _is_too_near(meeting: Meeting) -> bool:
    """Return whether flaps meet; flat on each other, one may simply lie over the other."""
    if meeting.gap < -SAME and not meeting.are_raised:
        return False
    return -float(LAP.mm) < meeting.gap < float(GAP.mm) - SAME


def _meetings(folded: FoldedPart) -> Iterator[Meeting]:
    taped = {frozenset((zone.panel, zone.onto)) for zone in folded.part.zones}
    for a, b in combinations(_flaps(folded), 2):
        if frozenset((a.name, b.name)) in taped or _are_parted(folded, a.name, b.name):
            continue
        lying = land(folded.poses[b.name], folded.poses[a.name], folded.outlines[b.name])
        if lying.is_parallel and abs(float(lying.distance)) < IN_PLANE:
            gap = _gap(folded.outlines[a.name], lying.path)
            if gap is not None:
                cosine = sum(x * y for x, y in zip(a.way, b.way, strict=True))
                yield Meeting(a.name, b.name, gap, cosine < -0.7, _is_raised(folded, a.name))


def _flaps(folded: FoldedPart) -> list[Flap]:
    """Return the panels that hang on one fold, those that bind the page left out."""
    lines: dict[str, list[Line]] = {}
    for line in folded.part.lines:
        if line.kind is not LineKind.SLIT:
            for name in line.key.panels():
                lines.setdefault(name, []).append(line)
    tied = {name for pair in folded.part.rigid for name in pair}
    return [
        Flap(name, _way(folded, name, own[0]))
        for name, own in lines.items()
        if len(own) == 1
        and own[0].angle_deg
        and name != folded.root
        and name not in tied
        and not name.startswith(GRAFTED)
    ]


def _are_parted(folded: FoldedPart, first: str, second: str) -> bool:
    """Return whether another panel lies between two, as a page between its two pockets."""
    sides = ((folded.side_of(n, first), folded.side_of(n, second)) for n in folded.outlines)
    return any(a * b < 0 for a, b in sides)


def _way(folded: FoldedPart, name: str, line: Line) -> tuple[float, float, float]:
    hinge, box = bounds_of(line.pieces), bounds_of([folded.outlines[name]])
    x = float(box.left + box.right - hinge.left - hinge.right)
    y = float(box.bottom + box.top - hinge.bottom - hinge.top)
    length = math.hypot(x, y) or 1.0
    a, b, c = (
        (float(row[0]) * x + float(row[1]) * y) / length for row in folded.poses[name].rotation
    )
    return a, b, c


def _gap(first: Any, second: Any) -> float | None:
    """Return how far two outlines are apart, below 0 by how much they overlap; None from 1/32 in on."""
    a, b = bounds_of([first]), bounds_of([second])
    if _apart(a, b) >= float(GAP.mm):
        return None
    from shapely import Polygon

    shapes = [Polygon(flattened(path)).buffer(0) for path in (first, second)]
    shared = shapes[0].intersection(shapes[1])
    if shared.area <= SAME:
        distance = float(shapes[0].distance(shapes[1]))
        return distance if distance < float(GAP.mm) else None
    left, bottom, right, top = shared.bounds
    return -min(right - left, top - bottom)


def _apart(a: Bounds, b: Bounds) -> float:
    across = max(a.left - b.right, b.left - a.right, 0)
    up = max(a.bottom - b.top, b.bottom - a.top, 0)
    return math.hypot(across, up)


def _is_raised(folded: FoldedPart, name: str) -> bool:
    """Return whether a flap lies in another plane than the panel at rest."""
    lying = land(folded.poses[name], folded.poses[folded.root], folded.outlines[name])
    return abs(float(lying.distance)) > IN_PLANE


def _without_order(folded: FoldedBook, part: DistinctPart, meeting: Meeting) -> Finding:
    words = [panel_words(folded.book, part.key, n) for n in (meeting.first, meeting.second)]
    by = shown(folded.book, -meeting.gap)
    return Finding(
        Severity.ERROR,
        Spot(part.key, meeting.second, _middle(part, meeting.second)),
        f"{words[0]} and {words[1]} overlap by {by} in one plane, and no step says which lies over the"
        f" other{and_others(part.number)}",
        "declare steps that fold one before the other, or make them shorter",
        Amount(-meeting.gap),
    )


def _too_near(folded: FoldedBook, part: DistinctPart, meeting: Meeting) -> Finding:
    book = folded.book
    words = [panel_words(book, part.key, n) for n in (meeting.first, meeting.second)]
    lacks = float(GAP.mm) - meeting.gap
    how = f"overlap by {shown(book, -meeting.gap)}" if meeting.gap < -SAME else "meet"
    if meeting.gap > SAME:
        how = f"come within {shown(book, meeting.gap)} of each other"
    return Finding(
        Severity.WARNING,
        Spot(part.key, meeting.second, _middle(part, meeting.second)),
        f"closed, {words[0]} and {words[1]} {how}{and_others(part.number)}",
        f"trim them by {shown(book, lacks)} together, so that {shown(book, GAP.mm)} remain between",
        Amount(lacks),
        tuple(_advice(folded, part, lacks)),
    )


def _middle(part: DistinctPart, name: str) -> Point:
    box = bounds_of([part.folded.outlines[name]])
    return Point((box.left + box.right) / 2, (box.bottom + box.top) / 2)


def _advice(folded: FoldedBook, part: DistinctPart, lacks: float) -> Iterator[Advice]:
    """Yield how far from the middle each has to end, where the page's template asks for that."""
    short = part.part.parameters.get("short_of_middle")
    pages = [p for p in folded.book.request.pages if f"page-{p.number}" == part.key]
    if isinstance(short, Length) and pages:
        unit = inches("1/32") if folded.book.units == "in" else millimetres("0.1")
        steps = math.ceil((float(short.mm) + lacks / 2) / float(unit.mm) - 1e-6)
        yield Advice(f"page.{pages[0].number}.short_of_middle", unit * steps)
