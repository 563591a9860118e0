"""Notches or holes that go through several layers do not lie on each other."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations
from math import dist
from typing import NamedTuple

from ...folding.folded_book import FoldedBook
from ...folding.folded_part import FoldedPart
from ...folding.lids import lids_of, motion_to, part_pockets
from ...landing import PARALLEL
from ...paths import Path, Point, bounds_of
from ...rigid import Pose
from ..bays import Bay, bays_of
from ..finding import Amount, Finding, Severity, Spot
from ..words import DistinctPart, and_others, distinct_parts, panel_words, shown

NAME = "notches apart"
WHY = (
    "A thumb notch or a punched hole works only where it goes through all layers: each is placed on"
    " the folded part and carried back to every layer."
)
WORST = Severity.WARNING
SOURCE = "geometry; what lies within 0.05 mm coincides"

SAME = 0.05  #: mm
ALIKE = 0.01  #: share by which the areas of two notches, or the sizes of two holes, may differ
NEAR = 0.75  #: of its width: holes farther apart are not meant to be one


class Apart(NamedTuple):
    """Two notches or holes that should be one, and how far apart they are (mm)."""

    what: str
    panel: str
    other: str
    place: Point  #: on the flat part, at the second
    distance: float


def check(folded: FoldedBook) -> Iterator[Finding]:
    """Yield the notches of pockets, then the holes of all parts, that do not coincide."""
    for part in distinct_parts(folded):
        if len(part.part.panels) > 1:
            for apart in (*_all_notches(part.folded), *_holes(part.folded)):
                yield _finding(folded, part, apart)


def _finding(folded: FoldedBook, part: DistinctPart, apart: Apart) -> Finding:
    book = folded.book
    first, second = (panel_words(book, part.key, name) for name in (apart.panel, apart.other))
    by = shown(book, apart.distance)
    return Finding(
        Severity.WARNING,
        Spot(part.key, apart.other, apart.place),
        f"folded, the {apart.what} of the {second} lies {by} beside that of the"
        f" {first}{and_others(part.number)}",
        f"move it by {by}, or place it on one layer and let it go through the other",
        Amount(apart.distance),
    )


# ------------------------------------------------------------------ notches


def _all_notches(folded: FoldedPart) -> Iterator[Apart]:
    """Yield the notches that miss each other: of pockets, or of layers of a part that declares none."""
    return _notches(folded) if folded.part.mouths else _near_notches(folded)


def _near_notches(folded: FoldedPart) -> Iterator[Apart]:
    """Yield notches of one size in two layers that overlap without coinciding, as in a sleeve."""
    notched = [
        panel.name for panel in folded.part.panels if any(v.bulge for v in panel.outline.vertices)
    ]
    for first, second in combinations(notched, 2):
        if not _is_level(motion_to(folded, first, second)):
            continue
        ours = list(bays_of(folded, first, first))
        for bay in bays_of(folded, second, first) if ours else ():
            nearest = min(ours, key=bay.distance)
            distance = bay.distance(nearest)
            if _is_meant(bay, nearest) and SAME < distance < NEAR * bay.width:
                place = _on_flat(folded, first, second, (bay.x, bay.y))
                yield Apart("notch", first, second, place, distance)


def _is_level(motion: Pose) -> bool:
    """Return whether two panels are parallel, by the motion from one to the other."""
    return all(abs(float(slope)) <= PARALLEL for slope in motion.rotation[2][:2])


def _notches(folded: FoldedPart) -> Iterator[Apart]:
    """Yield the notches of a pocket's back that miss the one of its front."""
    for pocket in part_pockets(folded):
        front = list(bays_of(folded, pocket.front, pocket.front))
        if not front:
            continue
        lids = lids_of(folded, pocket)
        for name in sorted(lids.backs):
            for bay in bays_of(folded, name, pocket.front):
                nearest = min(front, key=bay.distance)
                if _is_meant(bay, nearest) and bay.distance(nearest) > SAME:
                    place = _on_flat(folded, pocket.front, name, (bay.x, bay.y))
                    distance = bay.distance(nearest)
                    yield Apart("notch", pocket.front, name, place, distance)


def _is_meant(bay: Bay, other: Bay) -> bool:
    """Return whether two bays are of one size, so that one is meant to go through both layers."""
    return abs(bay.area - other.area) <= ALIKE * other.area


def _on_flat(folded: FoldedPart, onto: str, name: str, place: tuple[float, float]) -> Point:
    """Return a place on the panel *onto* where it is on the flat part, on another panel over it."""
    motion = motion_to(folded, name, onto)
    x, y, _ = motion.at(place)
    return Point(float(x), float(y))


# ------------------------------------------------------------------ holes


def _holes(folded: FoldedPart) -> Iterator[Apart]:
    """Yield holes of one size in two layers that overlap without coinciding."""
    punched = [panel for panel in folded.part.panels if panel.holes]
    for first, second in combinations(punched, 2):
        motion = motion_to(folded, first.name, second.name)
        if not _is_level(motion):
            continue
        for hole in second.holes:
            x, y, _ = motion.at(_middle(hole))
            near = [
                dist((float(x), float(y)), _floats(_middle(other)))
                for other in first.holes
                if _is_alike(hole, other)
            ]
            distance = min(near, default=0.0)
            if SAME < distance < NEAR * _size(hole):
                yield Apart("hole", first.name, second.name, _middle(hole), distance)


def _middle(hole: Path) -> Point:
    box = bounds_of([hole])
    return Point((box.left + box.right) / 2, (box.bottom + box.top) / 2)


def _floats(point: Point) -> tuple[float, float]:
    return float(point.x), float(point.y)


def _size(hole: Path) -> float:
    box = bounds_of([hole])
    return float(max(box.width, box.height))


def _is_alike(hole: Path, other: Path) -> bool:
    return abs(_size(hole) - _size(other)) <= ALIKE * _size(other)
