"""The flat part as shapes: what is cut, what is scored, and the paper between.

Arcs are taken as chords no farther off than SAGITTA, so distances to them are
short by at most that. All lengths are in mm.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from enum import Enum
from functools import cached_property
from itertools import count, pairwise
from typing import TYPE_CHECKING, NamedTuple

from ..drawing import Layer
from ..folding.folded_part import FoldedPart
from ..folding.keeping import kept_with
from ..part import LineKind, Part, Purpose
from ..part_drawing import scores_of
from ..paths import (
    Path,
    Point,
    Segment,
    Vertex,
    encloses,
    flattened,
    is_among,
    nearest_between,
    path_in_floats,
)

if TYPE_CHECKING:
    from shapely import Polygon

SAGITTA = 0.02  #: mm, how far a chord lies from its arc
ROUNDING = 0.03  #: mm; more than a chord is off its arc
SAME = 0.001  #: mm; what lies closer is in one place

Place = tuple[float, float]


class CutKind(Enum):
    """What a cut is to the person who makes it."""

    OUTLINE = "the outline"
    OPENING = "an opening"
    SLIT = "a slit"


@dataclass(frozen=True)
class Cut:
    """One cut line: the outline, the edge of an opening, or a slit; *name* is a line's or stroke's."""

    kind: CutKind
    path: Path
    name: str = ""

    @property
    def is_ring(self) -> bool:
        """Whether paper falls out along it: it is closed."""
        return self.path.closed

    @property
    def words(self) -> str:
        """What it is called in a message."""
        return f"the slit {self.name}" if self.name else self.kind.value


class Piece(NamedTuple):
    """A straight piece of a cut or a score: its ends, and the index of its line."""

    start: Place
    end: Place
    owner: int
    arc: int = 0  #: the number of the arc of which it is a chord, 0 for none

    @property
    def length(self) -> float:
        """Its length."""
        return math.dist(self.start, self.end)


@dataclass(frozen=True)
class FlatShapes:
    """A flat part, taken apart once for all rules that look at it."""

    part: Part

    @cached_property
    def cuts(self) -> tuple[Cut, ...]:
        """All that is cut right through, in floats: the outline first, then openings, then slits."""
        first, *others = map(path_in_floats, self.part.outline)
        rings = [Cut(CutKind.OUTLINE, first), *(Cut(CutKind.OPENING, ring) for ring in others)]
        return (*rings, *self._slits())

    def _slits(self) -> Iterator[Cut]:
        for line in self.part.lines:
            if line.kind is LineKind.SLIT:
                name = str(line.key)
                yield from (Cut(CutKind.SLIT, path_in_floats(p), name) for p in line.pieces)
        for stroke in self.part.strokes:
            if stroke.purpose is Purpose.CUT:
                kind = CutKind.OPENING if stroke.path.closed else CutKind.SLIT
                yield Cut(kind, path_in_floats(stroke.path), stroke.name.replace("_", " "))

    @cached_property
    def cut_pieces(self) -> tuple[Piece, ...]:
        """The straight pieces of all cuts; *owner* counts the cuts."""
        return tuple(pieces_of(cut.path for cut in self.cuts))

    @cached_property
    def scores(self) -> tuple[tuple[str, Path], ...]:
        """All scores, each in one stroke, with the names of the lines that it makes."""
        return tuple(
            (item.name, item.path)
            for item in scores_of(self.part)
            if item.layer is not Layer.PERFORATE
        )

    @cached_property
    def score_pieces(self) -> tuple[Piece, ...]:
        """The straight pieces of all scores; *owner* counts the scores."""
        return tuple(pieces_of(path for _, path in self.scores))

    @cached_property
    def paper(self) -> Polygon:
        """The paper that remains between the outline and the openings."""
        from shapely import Polygon

        exterior, *interiors = self._rings
        return Polygon(exterior, interiors)

    @cached_property
    def room(self) -> Polygon:
        """The paper and ROUNDING all round: what lies within it lies on the paper."""
        from shapely import prepare

        room: Polygon = self.paper.buffer(ROUNDING, join_style="mitre")
        prepare(room)
        return room

    @cached_property
    def _rings(self) -> list[list[Place]]:
        return [flattened(cut.path, SAGITTA) for cut in self.cuts[: len(self.part.outline)]]

    @cached_property
    def panel_areas(self) -> list[Polygon]:
        """The panels without their holes, in their order."""
        from shapely import Polygon

        return [
            Polygon(flattened(p.outline, SAGITTA), [flattened(hole, SAGITTA) for hole in p.holes])
            for p in self.part.panels
        ]

    def is_paper(self, place: Place) -> bool:
        """Return whether there is paper at *place*."""
        exterior, *interiors = self._rings
        return is_among(exterior, place) and not any(is_among(ring, place) for ring in interiors)

    def panel_at(self, place: Place) -> str:
        """Return the name of the panel at *place*; nothing where there is none."""
        for panel in self.part.panels:
            if encloses(panel.outline, place):
                return panel.name
        return ""


def shapes_of(folded: FoldedPart) -> FlatShapes:
    """Return the shapes of a flat part, taken apart once."""
    return kept_with(folded, "flat_shapes", lambda: FlatShapes(folded.part))


def pieces_of(paths: Iterable[Path]) -> Iterator[Piece]:
    """Yield the straight pieces of *paths*; those of no length are left out."""
    arcs = count(1)
    for owner, path in enumerate(paths):
        for segment in path.segments():
            points = _points(segment)
            arc = next(arcs) if segment.bulge else 0
            for start, end in pairwise(points):
                if math.dist(start, end) > SAME:
                    yield Piece(start, end, owner, arc)


def _points(segment: Segment) -> list[Place]:
    """Return the ends of a segment, and between them those of the chords of an arc."""
    (x0, y0), (x1, y1), bulge = segment
    if not bulge:
        return [(float(x0), float(y0)), (float(x1), float(y1))]
    return flattened(Path((Vertex(x0, y0, bulge), Vertex(x1, y1)), closed=False), SAGITTA)


def near_pairs(
    pieces: Sequence[Piece], others: Sequence[Piece], within: float
) -> Iterator[tuple[int, int]]:
    """Yield the indices of pieces and others that lie less than *within* apart."""
    from shapely import STRtree, linestrings

    if pieces and others:
        tree = STRtree(linestrings([(piece.start, piece.end) for piece in others]))
        lines = linestrings([(piece.start, piece.end) for piece in pieces])
        found = tree.query(lines, predicate="dwithin", distance=within)
        yield from sorted(zip(*found.tolist(), strict=True))


def nearest_on(piece: Piece, place: Place) -> Place:
    """Return the point of a straight piece that is nearest to *place*."""
    return nearest_between(piece.start, piece.end, place)


def as_point(place: Place) -> Point:
    """Return *place* as a point of a part."""
    return Point(*place)
