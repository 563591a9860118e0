"""How thick the closed book is, and what would be right.

Two thicknesses: *upright*, with channels and gussets standing as wide as they are
scored, and *pressed*, with materials alone. All lengths are millimetres (floats).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import NamedTuple

from ..part import FoldKey

PanelKey = tuple[str, str]
"""A panel of the book: the key of its part, its name."""


class TwoThicknesses(NamedTuple):
    """How thick the pages are somewhere, without the boards."""

    upright: float
    pressed: float


@dataclass(frozen=True, slots=True)
class Wall:
    """A gusset or a channel: a panel that stands between two panels that lie.

    *width* is how far apart its two folds are, *needed* how far apart what lies
    between and beside its two panels keeps them when the book is pressed,
    *short* by how much the least strained book would have it wider.
    """

    part: str
    panel: str
    lower: PanelKey  #: the panel nearer to the back cover
    upper: PanelKey
    width: float
    needed: float
    short: float
    is_channel: bool  #: whether it joins its part to another part, or to the spine

    @property
    def spare(self) -> float:
        """How much wider it is than needed; below 0 where it is too narrow."""
        return self.width - self.needed


@dataclass(frozen=True, slots=True)
class PocketDepth:
    """How much room a pocket has from face to face."""

    part: str
    front: str
    backs: tuple[str, ...]  #: what lies next over its front, the back and its seams
    depth: float  #: from crease to crease, as scored
    clear: float  #: between the faces of front and back
    under_seam: float  #: the same where its seam lies between; as *clear* where there is none


@dataclass(frozen=True, slots=True)
class Bend:
    """How much paper a fold takes up: its bend allowance, for an inner radius of 0."""

    part: str
    fold: FoldKey
    angle_deg: float
    allowance: float


@dataclass(frozen=True)
class Thickness:
    """All that is known of the thickness of a closed book."""

    upright: Mapping[PanelKey, float]  #: heights of panels' middles over the inside of the back board
    pressed: Mapping[PanelKey, float]
    at_binding: TwoThicknesses  #: upright it is what the spine must hold
    at_fore_edge: TwoThicknesses  #: in the middle between head and tail
    at_seams: TwoThicknesses  #: along the fore-edge where it is thickest
    thickest: TwoThicknesses
    spine: float  #: the distance of the boards' insides: the width of the spine board
    gape: float  #: fore-edge pressed less binding upright: below 0 the book closes to a wedge
    walls: tuple[Wall, ...]
    pockets: tuple[PocketDepth, ...]
    bends: tuple[Bend, ...]
    circles: tuple[tuple[PanelKey, ...], ...]  #: panels each of which lies over the one before

    @property
    def play(self) -> float:
        """What the spine has more than the pages need; below 0 they do not fit."""
        return self.spine - self.at_binding.upright
