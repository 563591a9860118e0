"""Moving a whole part in its plane: shifted, turned by quarter turns, or mirrored.

A mirrored part is another part: its face is still the face, its folds keep their
signs, left has become right. Turning a part over is something else and belongs
to the drawing.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction

from .part import Edge, FoldKey, Lettering, Line, Panel, Part, Step, Stroke
from .paths import Number, Path, Point, bounds_of, mapped

#: width of a letter as a share of its height, common practice
LETTER_WIDTH = Fraction(6, 10)
_COMPASS = {"right": (1, 0), "top": (0, 1), "left": (-1, 0), "bottom": (0, -1)}
_NAMES = {vector: name for name, vector in _COMPASS.items()}


@dataclass(frozen=True, slots=True)
class Motion:
    """x' = a x + b y + dx, y' = c x + d y + dy, with a, b, c, d of a quarter turn or mirror."""

    a: int = 1
    b: int = 0
    c: int = 0
    d: int = 1
    dx: Number = 0
    dy: Number = 0

    @property
    def mirrors(self) -> bool:
        """Whether left and right change places."""
        return self.a * self.d - self.b * self.c < 0

    @property
    def swaps_axes(self) -> bool:
        """Whether what stood up now lies across."""
        return self.a == 0

    def place(self, point: Point) -> Point:
        """Return where *point* goes."""
        x, y = (point.y, point.x) if self.swaps_axes else point
        # Of each pair of factors one is 0, the other 1 or -1; fractions are slow to multiply.
        across = -x if self.a + self.b < 0 else x
        up = -y if self.c + self.d < 0 else y
        return Point(across + self.dx, up + self.dy)

    def path(self, path: Path) -> Path:
        """Return where *path* goes."""
        return mapped(path, self.place, self.mirrors)

    def side(self, side: str) -> str:
        """Return the side that *side* becomes."""
        x, y = _COMPASS[side]
        return _NAMES[self.a * x + self.b * y, self.c * x + self.d * y]


def shift(dx: Number, dy: Number) -> Motion:
    """Return the motion by (*dx*, *dy*)."""
    return Motion(dx=dx, dy=dy)


MIRROR = Motion(a=-1)
#: turns that bring a left edge to each side, counter-clockwise
LEFT_EDGE_TO = {
    "left": Motion(),
    "right": MIRROR,
    "bottom": Motion(0, -1, 1, 0),
    "top": Motion(0, 1, -1, 0),
}


def moved(part: Part, motion: Motion) -> Part:
    """Return *part* with everything on it moved."""
    return replace(
        part,
        panels=tuple(_panel(panel, motion) for panel in part.panels),
        lines=tuple(_line(line, motion) for line in part.lines),
        outline=tuple(motion.path(ring) for ring in part.outline),
        strokes=tuple(_stroke(stroke, motion) for stroke in part.strokes),
        zones=tuple(replace(zone, path=motion.path(zone.path)) for zone in part.zones),
        lettering=tuple(_lettering(text, motion) for text in part.lettering),
        steps=tuple(_step(step, motion) for step in part.steps),
        bound=part.bound and _edge(part.bound, motion),
        mouths=tuple(_edge(mouth, motion) for mouth in part.mouths),
        grain=_grain(part.grain, motion),
        is_mirrored=part.is_mirrored != motion.mirrors,
    )


def mirrored(part: Part) -> Part:
    """Return the mirror image of *part*, left and right exchanged, at its origin."""
    return at_origin(moved(part, MIRROR))


def at_origin(part: Part) -> Part:
    """Return *part* with its lower left at (0, 0)."""
    box = bounds_of(part.outline[:1])
    left, bottom = _in_fractions(box.left), _in_fractions(box.bottom)
    return moved(part, shift(-left, -bottom)) if left or bottom else part


def _in_fractions(value: Number) -> Fraction:
    """Return a coordinate exactly; where an arc reaches farthest, but for the noise of floats.

    So the corners of a part stay exact wherever its arcs reach.
    """
    return value if isinstance(value, Fraction) else Fraction(round(value * 10**12), 10**12)


def _panel(panel: Panel, motion: Motion) -> Panel:
    return Panel(panel.name, motion.path(panel.outline), tuple(map(motion.path, panel.holes)))


def moved_key(key: FoldKey, motion: Motion) -> FoldKey:
    """Return how a line is named after the motion: as one reads it in the new map."""
    if key.relation == "-":
        return key
    side = motion.side("right" if key.relation == "|" else "bottom")
    first, second = (
        (key.first, key.second) if side in ("right", "bottom") else (key.second, key.first)
    )
    return FoldKey(first, "|" if side in ("left", "right") else "/", second)


def _line(line: Line, motion: Motion) -> Line:
    pieces = tuple(motion.path(piece) for piece in line.pieces)
    return replace(line, key=moved_key(line.key, motion), pieces=pieces)


def _stroke(stroke: Stroke, motion: Motion) -> Stroke:
    return replace(stroke, path=motion.path(stroke.path))


def _lettering(text: Lettering, motion: Motion) -> Lettering:
    """Return the text in the same place of its panel, still to be read from left to right."""
    width = len(text.text) * text.height * LETTER_WIDTH
    if motion.swaps_axes or motion.mirrors:
        middle = motion.place(Point(text.at.x + width / 2, text.at.y + text.height / 2))
        return replace(text, at=Point(middle.x - width / 2, middle.y - text.height / 2))
    return replace(text, at=motion.place(text.at))


def _step(step: Step, motion: Motion) -> Step:
    angles = tuple((moved_key(key, motion), angle) for key, angle in step.angles_deg)
    return replace(step, angles_deg=angles)


def _edge(edge: Edge, motion: Motion) -> Edge:
    """Return where an edge, or a bound fold, goes; its top or left end stays the first."""
    ends = (motion.place(edge.start), motion.place(edge.end))
    start, end = sorted(ends, key=lambda point: (point.x, -point.y))
    if edge.side in _COMPASS:
        return Edge(edge.panel, motion.side(edge.side), start, end)
    first, relation, second = edge.panel.split(" ")
    return Edge(str(moved_key(FoldKey(first, relation, second), motion)), edge.side, start, end)


def _grain(grain: str, motion: Motion) -> str:
    if not motion.swaps_axes:
        return grain
    return {"up": "across", "across": "up"}.get(grain, grain)
