"""The panels that lie parallel to the pages of the closed book, and what is stuck on them.

Boxes lie in the frame of the book (mm, floats): shapes count by the upright
rectangles around them, windows and notches as if they were closed.
"""

from __future__ import annotations

from collections.abc import Container, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from ..bindings.joining import zone_of
from ..book.book import Book, BookPart
from ..part import Side
from ..paths import Number, Path, bounds_of, rectangle
from ..rigid import Pose
from .folded_part import FoldedPart
from .hosts import coats_of

PanelKey = tuple[str, str]
"""A panel of the book: the key of its part, its name."""

Places = Mapping[str, Mapping[str, Pose]]
"""Where each panel of each part is in the closed book."""

#: Roles of what lies between the boards, the boards included; all else is stuck on these or
#: belongs to the case.
STACKED = frozenset({"pages", "inserts", "boards"})
BOARDS, REINFORCEMENT = "boards", "reinforcement"

LEVEL = 1 - 1e-9  #: upright share of a normal from which on a panel lies parallel to the pages
TOUCHING = 1e-3  #: mm; boxes that share less than this only touch
JUST_INSIDE = TOUCHING / 2


class Box(NamedTuple):
    """An upright rectangle in the frame of the book."""

    left: float
    bottom: float
    right: float
    top: float

    def shared(self, other: Box) -> Box | None:
        """Return what both have in common, or None where they only touch."""
        left, right = max(self.left, other.left), min(self.right, other.right)
        bottom, top = max(self.bottom, other.bottom), min(self.top, other.top)
        if right - left <= TOUCHING or top - bottom <= TOUCHING:
            return None
        return Box(left, bottom, right, top)

    def without(self, other: Box) -> Iterator[Box]:
        """Yield up to four rectangles, what *other* leaves of this one."""
        shared = self.shared(other)
        if shared is None:
            yield self
            return
        pieces = (
            Box(self.left, self.bottom, shared.left, self.top),
            Box(shared.right, self.bottom, self.right, self.top),
            Box(shared.left, self.bottom, shared.right, shared.bottom),
            Box(shared.left, shared.top, shared.right, self.top),
        )
        for piece in pieces:
            if piece.right - piece.left > TOUCHING and piece.top - piece.bottom > TOUCHING:
                yield piece


@dataclass(frozen=True, slots=True)
class Level:
    """A panel that lies parallel to the pages."""

    key: PanelKey
    box: Box
    faces_up: bool  #: whether its face looks to the front cover
    caliper: float
    rigid: (
        float  #: its height among the panels of its own part, folded from paper without thickness
    )


@dataclass(frozen=True, slots=True)
class Coat:
    """What is stuck, or lies, on one side of a level panel."""

    is_above: bool  #: on the side that looks to the front cover
    box: Box
    thickness: float
    kind: str  #: "tape", "reinforcement", "mats" or "contents"


def levels_of(book: Book, parts: Mapping[str, FoldedPart], places: Places) -> dict[PanelKey, Level]:
    """Return the panels of pages, inserts and boards that lie parallel to the pages, by key.

    What nothing holds is no layer of its own: see `contents`.
    """
    found = {}
    held = held_parts(book)
    for entry in book.parts:
        if entry.key not in places or not is_layer(entry, held):
            continue
        outlines = parts[entry.key].outlines
        for name, pose in places[entry.key].items():
            if is_level(pose):
                key = (entry.key, name)
                found[key] = _level(key, entry, pose, outlines[name])
    return found


def is_level(pose: Pose) -> bool:
    """Return whether a panel lies parallel to the pages."""
    return abs(float(pose.normal[2])) >= LEVEL


def is_layer(entry: BookPart, held: Container[str]) -> bool:
    """Return whether a part is held between the boards, or is one of them; *held* are those joined."""
    if entry.role == BOARDS or entry.part.bound is not None:
        return True
    return entry.role in STACKED and entry.key in held


def held_parts(book: Book) -> frozenset[str]:
    """Return the parts that are joined to another part."""
    pairs = [(join.part, join.onto_part) for join in book.joins if join.part != join.onto_part]
    return frozenset(key for pair in pairs for key in pair)


def _level(key: PanelKey, entry: BookPart, pose: Pose, outline: Path) -> Level:
    return Level(
        key=key,
        box=placed_box(pose, [outline]),
        faces_up=float(pose.normal[2]) > 0,
        caliper=float(entry.stock.caliper.mm),
        rigid=float(pose.translation[2]),
    )


def placed_box(pose: Pose, paths: Iterable[Path]) -> Box:
    """Return the rectangle around *paths* of a level panel, where they lie in the book."""
    box = bounds_of(paths)
    corners = [_flat(pose, box.left, box.bottom), _flat(pose, box.right, box.top)]
    (x, u), (y, v) = (sorted(corner[axis] for corner in corners) for axis in (0, 1))
    return Box(x, y, u, v)


def _flat(pose: Pose, x: Number, y: Number) -> tuple[float, float]:
    """Return where a point of a level panel lies across and up; in floats, which are fast."""
    (a, b, _), (c, d, _), _ = pose.rotation
    across, up = float(x), float(y)
    dx, dy = float(pose.translation[0]), float(pose.translation[1])
    return (
        float(a) * across + float(b) * up + dx,
        float(c) * across + float(d) * up + dy,
    )


# ------------------------------------------------------------------ what is stuck on them


def tape_coats(
    book: Book, levels: Mapping[PanelKey, Level], places: Places
) -> Iterator[tuple[PanelKey, Coat]]:
    """Yield the tape of every join between two level panels, on the panel that carries it."""
    thickness = float(book.tape.thickness.mm)
    parts = {entry.key: entry.part for entry in book.parts}
    seen = set()
    for join in book.joins:
        key = (join.part, join.panel)
        if key not in levels or (join.part, join.zone) in seen:
            continue
        seen.add((join.part, join.zone))
        zone = zone_of(parts[join.part], join.zone)
        box = placed_box(places[join.part][join.panel], [zone.path])
        yield key, Coat(is_above(levels[key], join.side), box, thickness, "tape")


def is_above(level: Level, side: Side) -> bool:
    """Return whether a side of a level panel looks to the front cover."""
    return level.faces_up == (side is Side.FACE)


def reinforcement_coats(
    book: Book, levels: Mapping[PanelKey, Level], places: Places
) -> Iterator[tuple[PanelKey, Coat]]:
    """Yield what strengthens each level panel, and the laps on the panels beside."""
    for (part, panel, side), coats in coats_of(book).items():
        level = levels.get((part, panel))
        if level is not None:
            is_up, pose = is_above(level, side), places[part][panel]
            for coat in coats:
                box = placed_box(pose, [rectangle(*coat.box)])
                yield level.key, Coat(is_up, box, float(coat.thickness), REINFORCEMENT)


def mat_coat(entry: BookPart, level: Level, side: Side) -> Coat:
    """Return a mat in the middle of a side of a panel."""
    width, height = float(entry.part.width), float(entry.part.height)
    box = centred(level.box, width, height)
    return Coat(is_above(level, side), box, float(entry.stock.caliper.mm), entry.role)


def centred(frame: Box, width: float, height: float) -> Box:
    """Return a rectangle of this size with its middle in that of *frame*."""
    x, y = (frame.left + frame.right) / 2, (frame.bottom + frame.top) / 2
    return Box(x - width / 2, y - height / 2, x + width / 2, y + height / 2)


# ------------------------------------------------------------------ sums


def thickest(coats: Sequence[tuple[Box, float]], within: Box) -> float:
    """Return the largest sum of thicknesses that lie over one point of *within*."""
    inside = [(shared, t) for box, t in coats if (shared := box.shared(within)) is not None]
    if len(inside) < 2:
        return inside[0][1] if inside else 0.0
    most = 0.0
    for x in {box.left + JUST_INSIDE for box, _ in inside}:
        over_x = [(box, t) for box, t in inside if box.left <= x < box.right]
        for y in {box.bottom + JUST_INSIDE for box, _ in over_x}:
            most = max(most, sum(t for box, t in over_x if box.bottom <= y < box.top))
    return most
