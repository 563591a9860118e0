"""Where the paper between cuts is narrow.

A narrow place is where two points of cuts, with paper between them, come no
nearer when either moves along its cut: the width of a strip, of a neck between
two corners, of the bridge between the ends of two slits. The flanks of a corner
come nearer all the way to its tip: corners are judged by their angle instead.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from ..folding.folded_part import FoldedPart
from ..folding.keeping import kept_with
from ..paths import flattened
from .flat_shapes import (
    SAGITTA,
    SAME,
    Cut,
    CutKind,
    FlatShapes,
    Piece,
    Place,
    near_pairs,
    nearest_on,
    shapes_of,
)

if TYPE_CHECKING:
    from shapely import Polygon

WIDEST = 5.0  #: mm; no rule asks for more
LEAST_AREA = 0.01  #: mm2; areas that differ by less are equal but for rounding
WIDER = 1.25  #: so many times as wide is what a neck holds, at both of its ends
MOST_OF = 0.95  #: this share of a panel's area is the panel
SLOPE = 0.01  #: sine of the angle up to which a cut is taken to run along, neither nearer nor away
_Ends = Mapping[tuple[int, int], list[tuple[float, float]]]


@dataclass(frozen=True)
class Narrow:
    """A narrow place: from *start* on one cut to *end* on another, or on the same."""

    width: float
    start: Place
    end: Place
    first: Cut
    second: Cut
    severs: bool  #: whether the part falls into two if it tears there
    run: float  #: for how long both cuts run side by side there, mm

    @property
    def middle(self) -> Place:
        """The point between both cuts."""
        return _between(self.start, self.end)


def narrower(folded: FoldedPart, width: float) -> list[Narrow]:
    """Return the places of a part where the paper is narrower than *width*, the narrowest first.

    *width* is at most WIDEST.
    """
    shapes = shapes_of(folded)
    found = kept_with(folded, "narrow_places", lambda: narrow_places(shapes))
    return [narrow for narrow in found if narrow.width < width - SAME]


def narrow_places(shapes: FlatShapes) -> list[Narrow]:
    """Return the places where the paper is narrower than WIDEST, the narrowest first."""
    if _is_wide(shapes):
        return []
    pieces = shapes.cut_pieces
    leaving = _leaving(pieces)
    found = [
        narrow
        for i, j in near_pairs(pieces, pieces, WIDEST)
        if i < j and not _meet(pieces[i], pieces[j])
        for narrow in _narrow(shapes, pieces[i], pieces[j], leaving)
        if narrow.width < WIDEST
    ]
    return sorted(_once(found), key=lambda narrow: (narrow.width, narrow.start, narrow.end))


def _is_wide(shapes: FlatShapes) -> bool:
    """Return whether it is sure that no paper without slits is narrower than WIDEST.

    Drawn in by half of that and out again, such paper is as it was, and in between it
    neither fell apart nor lost an opening to another or to the edge.
    """
    if any(not cut.is_ring for cut in shapes.cuts) or len(shapes.cuts) > len(shapes.part.outline):
        return False
    half, paper = WIDEST / 2, shapes.paper
    inner = paper.buffer(-half, join_style="mitre", mitre_limit=20)
    if inner.geom_type != "Polygon" or len(inner.interiors) != len(paper.interiors):
        return False
    again = inner.buffer(half, join_style="mitre", mitre_limit=20)
    return abs(float(again.area - paper.area)) < LEAST_AREA


def _meet(a: Piece, b: Piece) -> bool:
    """Return whether two pieces go on as each other: with an end in common, or on one arc."""
    on_one_arc = bool(a.arc) and a.arc == b.arc
    return on_one_arc or a.end in (b.start, b.end) or a.start in (b.start, b.end)


def _once(found: Iterable[Narrow]) -> list[Narrow]:
    """Return each place once: where cuts run side by side their corners are no further places."""
    kept: list[Narrow] = []
    for narrow in sorted(found, key=lambda one: (-one.run, one.start, one.end)):
        if not any(_is_within(narrow, other) for other in kept):
            kept.append(narrow)
    return kept


def _is_within(narrow: Narrow, other: Narrow) -> bool:
    cuts = (narrow.first, narrow.second) == (other.first, other.second)
    alike = cuts and abs(narrow.width - other.width) < SAME
    return alike and math.dist(narrow.middle, other.middle) <= other.run / 2 + SAME


def _narrow(shapes: FlatShapes, a: Piece, b: Piece, leaving: _Ends) -> Iterator[Narrow]:
    start, end, run = shortest(a, b)
    width = math.dist(start, end)
    if width <= SAME or not (_is_least(start, end, leaving) and _is_least(end, start, leaving)):
        return
    if shapes.is_paper(_between(start, end)):
        first, second = shapes.cuts[a.owner], shapes.cuts[b.owner]
        groups = _joined_cuts(shapes)
        yield Narrow(width, start, end, first, second, groups[a.owner] == groups[b.owner], run)


def shortest(a: Piece, b: Piece) -> tuple[Place, Place, float]:
    """Return the nearest points of two straight pieces, and for how long they are as near.

    Where they run side by side it is the middle of that run.
    """
    ends = [
        *((end, nearest_on(b, end)) for end in (a.start, a.end)),
        *((nearest_on(a, end), end) for end in (b.start, b.end)),
    ]
    least = min(math.dist(p, q) for p, q in ends)
    nearest = [(p, q) for p, q in ends if math.dist(p, q) < least + SAME]
    low, high = min(nearest), max(nearest)
    return _between(low[0], high[0]), _between(low[1], high[1]), math.dist(low[0], high[0])


def _between(a: Place, b: Place) -> Place:
    return (a[0] + b[0]) / 2, (a[1] + b[1]) / 2


def _leaving(pieces: tuple[Piece, ...]) -> _Ends:
    """Return the directions in which cuts leave each place where pieces end."""
    found: dict[tuple[int, int], list[tuple[float, float]]] = defaultdict(list)
    for piece in pieces:
        (x0, y0), (x1, y1) = piece.start, piece.end
        along = ((x1 - x0) / piece.length, (y1 - y0) / piece.length)
        found[_cell(piece.start)].append(along)
        found[_cell(piece.end)].append((-along[0], -along[1]))
    return found


def _cell(place: Place) -> tuple[int, int]:
    return round(place[0] / SAME), round(place[1] / SAME)


def _is_least(place: Place, other: Place, leaving: _Ends) -> bool:
    """Return whether no cut that leaves *place* comes nearer to *other*."""
    width = math.dist(place, other)
    towards = ((other[0] - place[0]) / width, (other[1] - place[1]) / width)
    return all(dx * towards[0] + dy * towards[1] <= SLOPE for dx, dy in leaving[_cell(place)])


def _joined_cuts(shapes: FlatShapes) -> list[int]:
    """Return for each cut the first of those that it hangs together with, however indirectly."""
    groups = list(range(len(shapes.cuts)))
    slits = [i for i, cut in enumerate(shapes.cuts) if cut.kind is CutKind.SLIT]
    if slits:
        for i, j in near_pairs(shapes.cut_pieces, shapes.cut_pieces, SAGITTA + SAME):
            one, other = (groups[shapes.cut_pieces[k].owner] for k in (i, j))
            groups = [min(one, other) if group in (one, other) else group for group in groups]
    return groups


def held_by(shapes: FlatShapes, narrow: Narrow) -> Polygon | None:
    """Return the smaller of the two pieces that a neck holds together; None where it is no neck.

    A neck has wider paper on both sides. A strip that is as narrow all along, and a
    tongue between two slits, have not.
    """
    if not narrow.severs:
        return None
    pieces = _torn(shapes, narrow)
    wide = [piece for piece in pieces if not piece.buffer(-narrow.width * WIDER / 2).is_empty]
    return min(wide, key=lambda piece: piece.area) if len(wide) > 1 else None


def _torn(shapes: FlatShapes, narrow: Narrow) -> Sequence[Polygon]:
    """Return the two pieces that a tear across a narrow place leaves, those it does not touch aside."""
    from shapely import LineString, get_parts, union_all

    slits = [LineString(flattened(cut.path, SAGITTA)) for cut in shapes.cuts[1:] if not cut.is_ring]
    tear = LineString([narrow.start, narrow.end])
    knife = union_all([line.buffer(SAME * 2, cap_style="square") for line in (*slits, tear)])
    near = tear.buffer(SAME * 4)
    return [piece for piece in get_parts(shapes.paper.difference(knife)) if piece.intersects(near)]


def panels_held(shapes: FlatShapes, held: Polygon) -> list[str]:
    """Return the panels that lie wholly, or nearly so, in the piece that is *held*."""
    from shapely import Polygon

    found = []
    for panel in shapes.part.panels:
        whole = Polygon(flattened(panel.outline, SAGITTA))
        if held.intersection(whole).area > MOST_OF * whole.area:
            found.append(panel.name)
    return found
