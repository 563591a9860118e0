"""A part: one piece of stock lying flat, face up.

Millimetres, x right, y up, origin at the part's lower left. Panels keep the
names that their template gave them; what a binding grafted on is called
``binding.tab`` and so on. Lines of a panel keep their true arcs.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import Enum
from fractions import Fraction

from .lengths import Length
from .paths import Bounds, Number, Path, Point, bounds_of


class Side(Enum):
    """One of the two sides of a piece of paper; the face lies towards you on the map."""

    FACE = "face"
    REVERSE = "reverse"


class LineKind(Enum):
    """What is done along a line between two panels, or anywhere on a panel."""

    FOLD = "fold"
    SLIT = "slit"
    PERFORATE = "perforate"


@dataclass(frozen=True, slots=True)
class Panel:
    """An area between folds, with a name a crafter would say.

    *outline* runs counter-clockwise; *holes* (windows, punched holes, rings)
    run clockwise or counter-clockwise as they were made.
    """

    name: str
    outline: Path
    holes: tuple[Path, ...] = ()

    def bounds(self) -> Bounds:
        """Return the rectangle around the panel."""
        return bounds_of([self.outline])


@dataclass(frozen=True, slots=True)
class FoldKey:
    """How a line is named: ``upper / lower``, ``left | right`` or oblique ``a - b``."""

    first: str
    relation: str  #: one of / | -
    second: str

    def __str__(self) -> str:
        return f"{self.first} {self.relation} {self.second}"

    def panels(self) -> frozenset[str]:
        """Return the names on both sides."""
        return frozenset((self.first, self.second))


@dataclass(frozen=True, slots=True)
class Line:
    """The line between two panels, trimmed to where both remain.

    *angle_deg* is the finished angle of a fold: positive valley, negative
    mountain (FOLD 1.2), 0 scored but at rest flat. *pieces* are straight, or arcs
    where a custom part has a curved score; a curved fold is drawn, not simulated.
    """

    key: FoldKey
    kind: LineKind
    angle_deg: Number
    pieces: tuple[Path, ...]

    @property
    def is_straight(self) -> bool:
        """Whether the line can be folded as a hinge."""
        return not any(vertex.bulge for piece in self.pieces for vertex in piece.vertices)


@dataclass(frozen=True, slots=True)
class Step:
    """One step of folding: each line with the angle that it has reached afterwards.

    *under* holds (panel, panel already there) for panels that are tucked.
    """

    angles_deg: tuple[tuple[FoldKey, Number], ...]
    under: tuple[tuple[str, str], ...] = ()


class Purpose(Enum):
    """What a line drawn on a panel is for."""

    CUT = "cut"
    SCORE = "score"
    PERFORATE = "perforate"
    MARK = "mark"


@dataclass(frozen=True, slots=True)
class Stroke:
    """A line anywhere on a panel: a slit, an extra score, a perforation or a mark.

    A score says by *angle_deg* which way it gives (its sign is all that counts).
    """

    panel: str
    purpose: Purpose
    path: Path
    angle_deg: Number = Fraction(0)
    name: str = ""


@dataclass(frozen=True, slots=True)
class Zone:
    """A zone of double-sided tape or glue on one side of a panel.

    *onto* names the panel of this part that it lands on, ``part.panel`` of
    another part of the template, or what a binding means by ``board``,
    ``spine`` or ``neighbour.page``; empty when a table of joins says it.
    """

    name: str  #: unique in the part
    panel: str
    side: Side
    path: Path
    onto: str = ""


@dataclass(frozen=True, slots=True)
class Lettering:
    """A text on a panel, set from its lower left corner *at*."""

    panel: str
    text: str
    at: Point
    height: Number


@dataclass(frozen=True, slots=True)
class Edge:
    """A straight edge of a panel with the side that it faces: left, right, top or bottom."""

    panel: str
    side: str
    start: Point
    end: Point


@dataclass(frozen=True)
class Fragment:
    """What a binding grafted onto a part: its template, and what that was given."""

    template: str
    version: int
    parameters: Mapping[str, object]


@dataclass(frozen=True)
class Part:
    """One piece of stock, flat, with everything that is cut, scored, taped and marked."""

    name: str  #: "page", "card", "leaf2"
    template: str
    version: int
    stock: str  #: the role: "cardstock", "board", "reinforcing"
    grain: str  #: "up", "across" or "free", as the part lies
    quantity: int
    panels: tuple[Panel, ...]
    lines: tuple[Line, ...]
    outline: tuple[Path, ...]  #: exterior first (counter-clockwise), then interiors (clockwise)
    strokes: tuple[Stroke, ...] = ()
    zones: tuple[Zone, ...] = ()
    lettering: tuple[Lettering, ...] = ()
    steps: tuple[Step, ...] = ()
    bound: Edge | None = None  #: the edge where a binding holds it
    mouths: tuple[Edge, ...] = ()  #: the open side of each pocket
    rigid: tuple[tuple[str, str], ...] = ()  #: panels with no fold between them: one face
    covers: tuple[str, ...] = ()  #: panels of another part that this one strengthens
    covers_side: Side = Side.FACE
    is_mirrored: bool = False
    #: what its template was given, usual values included: Length, Fraction, bool or str
    parameters: Mapping[str, object] = field(default_factory=dict)
    graft: Fragment | None = None

    @property
    def width(self) -> Number:
        """Extent across, mm."""
        return bounds_of(self.outline[:1]).width

    @property
    def height(self) -> Number:
        """Extent up, mm."""
        return bounds_of(self.outline[:1]).height

    @property
    def folds(self) -> tuple[Line, ...]:
        """The lines that are folds (those scored but at rest flat included)."""
        return tuple(line for line in self.lines if line.kind is LineKind.FOLD)

    def panel(self, name: str) -> Panel:
        """Return the panel called *name*; raises KeyError."""
        for panel in self.panels:
            if panel.name == name:
                return panel
        raise KeyError(name)


def exact_length(value: Number) -> Length:
    """Return a coordinate as an exact length; a float goes to the nearest micrometre."""
    exact = value if isinstance(value, Fraction) else Fraction(round(value * 1000), 1000)
    return Length(Fraction(exact))
