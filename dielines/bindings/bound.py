"""What a binding works with and what it returns: pages before, parts and joins after."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import Enum
from fractions import Fraction
from functools import cached_property

from ..language.building import Built
from ..lengths import ZERO, Length
from ..part import Part, Side, exact_length
from ..paths import Number, Point
from ..poses import poses
from ..rigid import Pose

MICROMETRE = Fraction(1, 1000)  #: mm; what differs by less is the same


class Towards(Enum):
    """One of the two covers, as seen from anywhere in the book."""

    FRONT = "front"
    BACK = "back"

    @property
    def other(self) -> Towards:
        """The opposite cover."""
        return Towards.BACK if self is Towards.FRONT else Towards.FRONT


@dataclass(frozen=True)
class Contents:
    """How thick what is put onto and into a page is."""

    held: Length  #: in its pockets, behind its flaps, or on its inner side
    inner: Length  #: mats on its inner side
    outer: Length  #: mats on its outer side


@dataclass(frozen=True)
class Body:
    """A page as its template makes it, before a binding adds anything.

    *looks* is the cover towards which its inner side looks: the face of its bound
    panel. A page that looks to the back is bound at its right as one sees that
    side, so it is mirrored; one that looks to the front is bound at its left, as drawn.
    """

    number: int
    words: str  #: "side pocket"
    built: Built
    looks: Towards
    contents: Contents

    @cached_property
    def page(self) -> Part:
        """The part that is bound."""
        return next(part for part in self.built.parts if part.bound)

    @property
    def bound_panel(self) -> str:
        """The panel at whose edge the page is bound; of a bound fold, its first."""
        assert self.page.bound is not None
        return self.page.bound.panel.split(" ")[0]

    @cached_property
    def folded(self) -> Mapping[str, Pose]:
        """Where each panel lies once all is folded and the bound panel lies flat."""
        return folded(self.page, self.bound_panel)

    @cached_property
    def _heights(self) -> tuple[Number, ...]:
        return tuple(
            self.folded[panel.name].at(point)[2]
            for panel in self.page.panels
            for point in panel.outline.points
        )

    def room(self, towards: Towards) -> Length:
        """Return how far pocket bodies and flaps reach from the page towards a cover."""
        sign = 1 if towards is self.looks else -1
        return exact_reach([sign * height for height in self._heights])

    def contents_towards(self, cover: Towards) -> Length:
        """Return how thick that is which lies on the side of the page that looks to a cover.

        What a page holds is where a pocket or a flap has room, else on its inner side.
        """
        is_inner = cover is self.looks
        mats = self.contents.inner if is_inner else self.contents.outer
        holds = self.room(cover) or (is_inner and not self.room(cover.other))
        return mats + self.contents.held if holds else mats


def exact_reach(heights: Sequence[Number]) -> Length:
    """Return the largest of *heights*, mm, or 0 where all lie below.

    Panels that stand at an angle have floats for heights; an exact height that
    is as large to the micrometre goes before them.
    """
    reach = max(heights, default=Fraction(0))
    if reach < MICROMETRE:
        return ZERO
    exact = [h for h in heights if isinstance(h, Fraction) and h > reach - MICROMETRE]
    return Length(max(exact)) if exact else exact_length(reach)


def folded(part: Part, root: str) -> dict[str, Pose]:
    """Return the poses of the panels of *part*, finished, with *root* at rest."""
    panels = {panel.name: panel.outline for panel in part.panels}
    return poses(panels, part.lines, part.steps, root=root, rigid=part.rigid)


@dataclass(frozen=True)
class BoundPart:
    """A part of the book: *key* names it in files, *title* for people."""

    key: str
    title: str
    part: Part
    role: str  #: the role of its stock in the book: pages, boards, mats, ...
    note: str = ""


@dataclass(frozen=True)
class Join:
    """Tape of one part onto a side of a panel of another, or of the same part.

    *offset* is where the lower left of the zone's bounds comes to lie on the
    target, in the flat coordinates of the target's part, mm; *width* and *height*
    are the extents of the zone as it lies there. *order* counts from 1 in the
    order of assembly.
    """

    order: int
    part: str
    zone: str
    panel: str
    side: Side
    onto_part: str
    onto_panel: str
    onto_side: Side
    offset: Point
    width: Number
    height: Number


@dataclass(frozen=True)
class Note:
    """Something that a person should know about how a size or a part came about."""

    code: str
    subject: str
    text: str


@dataclass(frozen=True)
class Bound:
    """A bound book: all parts that the binding made, their joins in order, and remarks."""

    parts: tuple[BoundPart, ...]
    joins: tuple[Join, ...]
    notes: tuple[Note, ...] = ()
