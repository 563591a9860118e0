"""The cutting machine: how large it cuts, what it reads, and what it can do."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import Enum
from typing import Literal

from ..lengths import Length
from .reach import Reach
from .sizes import Size
from .stock import Stock

#: The layers of a drawing, by the names that they have there; the drawing itself is no
#: concern of a workshop, so a test holds these to it.
LAYERS = (
    "CUT", "PERFORATE", "SCORE_VALLEY", "SCORE_MOUNTAIN",
    "TAPE_FACE", "TAPE_REVERSE", "MARK", "LABEL",
)  # fmt: skip
SCORES = frozenset({"SCORE_VALLEY", "SCORE_MOUNTAIN"})
#: What a blade or a scoring tool acts on; all else is for a pen.
WORKED = SCORES | {"CUT", "PERFORATE"}


class Scoring(Enum):
    """How the machine makes a score."""

    TOOL = "tool"
    DASHES = "dashes"  # it cuts a row of dashes instead
    NONE = "none"  # scores are left to the hand


class Grouping(Enum):
    """How the paths of a cut file are grouped."""

    PART_FIRST = "part first"
    LAYER_FIRST = "layer first"
    NONE = "none"


@dataclass(frozen=True, slots=True)
class Dashes:
    """A score made of cut dashes."""

    dash: Length
    gap: Length
    keep_off: Length  #: distance kept from both ends of the score


@dataclass(frozen=True, slots=True)
class Bridges:
    """Short stretches of an outline that are left uncut, so that the part stays in its sheet."""

    width: Length  #: of what is left; nothing for no bridges
    every: Length  #: about one in so much of an outline, and two at least


@dataclass(frozen=True)
class Machine:
    """What the person's machine can do, and how it wants its files."""

    area: Size
    margin: Length  #: what it cannot reach along each edge of a sheet
    reads: tuple[str, ...]  #: of "svg" and "dxf"
    svg_units_per_inch: int
    dxf_version: str
    layers: tuple[str, ...]  #: those of the cut file, in the order of cutting
    grouping: Grouping
    colours: Mapping[str, str]  #: "#rrggbb" where the person wants another than the usual one
    scoring: Scoring
    dashes: Dashes
    draws: bool  #: it holds a pen
    shares_scoring_tool: bool  #: valley and mountain are one tool
    side_up: Literal["face", "reverse"]
    thickest: Length
    kerf: Length  #: width of the cut, which is taken away from the material
    gap: Length  #: left between the parts of a sheet, at least
    bridges: Bridges
    overlap: Length  #: by which a closed cut goes on past its start; nothing: it stays closed
    cuts_shared_edges_once: bool  #: parts lie against one another, and the edge between is one cut
    has_file_per_layer: bool
    has_registration_marks: bool
    caution: str = ""  #: of the kind of machine that it is like

    @property
    def cut_layers(self) -> tuple[str, ...]:
        """The layers of the cut file, without the scores when the hand makes them."""
        left_out = SCORES if self.scoring is Scoring.NONE else frozenset()
        return tuple(layer for layer in self.layers if layer not in left_out)

    @property
    def reach(self) -> Reach:
        """How much of a sheet it cuts."""
        return Reach(self.area, self.margin)

    def cuts(self, stock: Stock) -> bool:
        """Return whether *stock* is thin enough for it."""
        return stock.caliper <= self.thickest
