"""A seam does not land wholly on the panel that it is taped to."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from ...folding.folded_book import FoldedBook
from ...landing import Overhang, overhang_of
from ...paths import Number, Path, Point, flattened
from ...rigid import relative
from ..finding import Amount, Finding, Severity, Spot
from ..outline_hull import beyond, corners_of, hull_of
from ..seams import CONTACT, NEAR, Seam, curved_beside, seams_of
from ..words import DistinctPart, and_others, distinct_parts, panel_words, shown

NAME = "seam off target"
WHY = (
    "A seam holds by what of it lies on its target. It is an error where not even its tape does, or"
    " where it does not lie flat; what sticks over, or has to be pressed down, is a warning."
)
WORST = Severity.ERROR
SOURCE = (
    "geometry; from memory: a seam within 0.5 mm of its target's plane lies on it, and what sticks over"
    " by less than 1 mm is a remark"
)

LITTLE = 1.0  #: mm; about what cutting and folding by hand err by


def check(folded: FoldedBook) -> Iterator[Finding]:
    """Yield each seam that sticks over its target, lies apart from it, or at an angle to it."""
    for part in distinct_parts(folded):
        told = set()
        for seam in seams_of(part.folded):
            pair = (seam.zone.panel, seam.zone.onto)
            if pair not in told:
                told.add(pair)
                yield from _faults(folded, part, seam)


def _faults(folded: FoldedBook, part: DistinctPart, seam: Seam) -> Iterator[Finding]:
    book, onto = folded.book, panel_words(folded.book, part.key, seam.zone.onto)
    if not seam.landed.is_parallel:
        angle = _angle(part, seam)
        words = f"does not lie flat on the {onto} but {angle:.0f} degrees from it"
        remedy = "make the folds between them add up, or tape it to another panel"
        yield _finding(folded, part, seam, Severity.ERROR, words, remedy, Amount(angle, "degrees"))
        return
    over = _overhang(part, seam)
    if over.distance > NEAR:
        is_held = seam.landing.overhang.distance <= NEAR
        severity = _severity(over, is_held)
        words = f"sticks over the {onto} by {shown(book, over.distance)}"
        remedy = (
            f"make the {onto} longer there, or the seam shorter, by {shown(book, over.distance)}"
        )
        yield _finding(folded, part, seam, severity, words, remedy, Amount(over.distance))
    if seam.gap > CONTACT:
        words = f"comes to lie {shown(book, seam.gap)} away from the {onto}"
        remedy = f"make the gussets on both sides equal: they differ by {shown(book, seam.gap)}"
        yield _finding(folded, part, seam, Severity.WARNING, words, remedy, Amount(seam.gap))


def _severity(over: Overhang, is_held: bool) -> Severity:
    """Return an error where tape misses its target, a remark for what a hand may err by."""
    if not is_held:
        return Severity.ERROR
    return Severity.REMARK if over.distance < LITTLE else Severity.WARNING


def _overhang(part: DistinctPart, seam: Seam) -> Overhang:
    """Return what of the seam lies beside its target.

    A panel with several targets, an envelope's foot, bridges what is between them;
    where a curved score bends it, what lies beyond counts as the target.
    """
    targets = {s.zone.onto for s in seams_of(part.folded) if s.zone.panel == seam.zone.panel}
    if len(targets) > 1:
        return seam.landing.overhang
    target = part.folded.outlines[seam.zone.onto]
    over = overhang_of(seam.landed.path, target)
    curved = curved_beside(part.part, seam.zone.onto)
    if over.is_inside:
        return over
    return _beside_all(part, seam, curved) if curved else _exact(over, seam, target)


def _exact(over: Overhang, seam: Seam, target: Path) -> Overhang:
    """Return an overhang with its exact distance where that is from a straight outer edge."""
    outside = beyond(hull_of([target]), corners_of(seam.landed.path))
    if outside is None or abs(float(outside.distance - over.distance)) > NEAR:
        return over
    return over._replace(distance=outside.distance)


def _beside_all(part: DistinctPart, seam: Seam, curved: Sequence[Path]) -> Overhang:
    from shapely import Polygon, union_all

    rings = [part.folded.outlines[seam.zone.onto], *curved]
    target = union_all([Polygon(flattened(ring)).buffer(0.01) for ring in rings])
    outside = Polygon(flattened(seam.landed.path)).difference(target)
    if outside.is_empty:
        return Overhang(0, 0)
    return Overhang(outside.area, outside.hausdorff_distance(target) if outside.area else 0)


def _angle(part: DistinctPart, seam: Seam) -> float:
    """Return the angle between the planes of a seam and its target, 0 to 90 degrees."""
    poses = part.folded.poses
    up = float(relative(poses[seam.zone.onto], poses[seam.zone.panel]).rotation[2][2])
    return math.degrees(math.acos(min(1.0, abs(up))))


def _finding(
    folded: FoldedBook,
    part: DistinctPart,
    seam: Seam,
    severity: Severity,
    words: str,
    remedy: str,
    amount: Amount,
) -> Finding:
    carrier = panel_words(folded.book, part.key, seam.zone.panel)
    return Finding(
        severity,
        Spot(part.key, seam.zone.panel, _middle(seam.zone.path.points)),
        f"the {carrier} {words}{and_others(part.number)}",
        remedy,
        amount,
    )


def _middle(points: Sequence[tuple[Number, Number]]) -> Point:
    return Point(sum(p[0] for p in points) / len(points), sum(p[1] for p in points) / len(points))
