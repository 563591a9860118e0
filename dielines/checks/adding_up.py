"""Whether the panels of a part add up to what is cut, and sizes that go together agree."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import combinations, pairwise

from ..lengths import Length
from ..part import FoldKey, Panel, Part
from ..paths import Number, Path, Point, flattened, magnitude
from .flat_shapes import SAGITTA, FlatShapes, Place

LEAST_AREA = 0.02  #: mm2; areas that differ by less are equal but for rounding
OFF = 0.01  #: mm; what differs by less is equal but for rounding
NEARLY = Fraction(3, 4)  #: mm; panels of a pair that differ by less were meant to be equal (m)
GRAFTED = "binding."
#: Words for the two of a pair; panels that differ in nothing else are twins.
PAIRS = ({"head", "tail"}, {"left", "right"})
#: The same, for names of more words: a front and a back that wrap something differ by its thickness.
PAIRS_OF_PIECES = (*PAIRS, {"front", "back"})


@dataclass(frozen=True)
class Row:
    """A row (or column): what its panels add up to, what is cut there, its first panel, a place on it."""

    is_across: bool
    panels: float
    cut: float
    first: str
    place: Point
    extent: float  #: how high a row is, or how wide a column

    @property
    def off(self) -> float:
        """By how much more the panels add up to than is cut."""
        return self.panels - self.cut


@dataclass(frozen=True)
class Unlike:
    """A panel whose *size* is not what is *wanted*; *other* is its twin, or empty.

    *is_sure* where it cannot have been meant: what a binding grafts on has the size it was given.
    """

    panel: str
    size: Number
    wanted: Number
    other: str = ""
    is_sure: bool = False


def rows_that_differ(shapes: FlatShapes) -> Iterator[Row]:
    """Yield the row and the column where panels and cut size differ most; none where areas agree.

    Each panel has to lie on the paper, and all together have to be as large as it. A
    direction is told where more of the part is off than it is off by: where two
    panels overlap by a little, their heights are no fault of the column there.
    """
    from shapely import area, covers

    panels = shapes.panel_areas
    lacking = shapes.paper.area - float(area(panels).sum())
    if abs(lacking) > LEAST_AREA or not covers(shapes.room, panels).all():
        for is_across in (True, False):
            rows = [row for row in _rows(shapes.part, is_across) if abs(row.off) > OFF]
            worst = max(rows, key=lambda row: abs(row.off), default=None)
            if worst is not None and sum(row.extent for row in rows) >= abs(worst.off):
                yield worst


def _rows(part: Part, is_across: bool) -> Iterator[Row]:
    """Yield each row between two heights at which panels begin or end, left to right (or up)."""
    heights = sorted({_height(v.point, is_across) for p in part.panels for v in p.outline.vertices})
    cut = [_corners(ring, is_across) for ring in part.outline]
    rings = {p.name: [_corners(r, is_across) for r in (p.outline, *p.holes)] for p in part.panels}
    for low, high in pairwise(heights):
        if high - low > OFF:
            middle = (low + high) / 2
            met = {name: _crossings(paths, middle) for name, paths in rings.items()}
            found = sorted((xs[0], name) for name, xs in met.items() if xs)
            if found:
                start, first = found[0]
                place = Point(start, middle) if is_across else Point(middle, start)
                total = sum(_length(xs) for xs in met.values())
                size = _length(_crossings(cut, middle))
                yield Row(is_across, total, size, first, place, high - low)


def _height(point: Point, is_across: bool) -> float:
    return round(float(point.y if is_across else point.x), 6)


def _corners(path: Path, is_across: bool) -> list[Place]:
    """Return the corners of a path, across and up, or up and across."""
    corners = flattened(path, SAGITTA)
    return corners if is_across else [(y, x) for x, y in corners]


def _crossings(rings: Sequence[Sequence[Place]], height: float) -> list[float]:
    """Return where the level line at *height* crosses closed *rings*, from left to right."""
    found = []
    for ring in rings:
        for (x0, y0), (x1, y1) in zip(ring, [*ring[1:], ring[0]], strict=True):
            if (y0 > height) != (y1 > height):
                found.append(x0 + (x1 - x0) * (height - y0) / (y1 - y0))
    return sorted(found)


def _length(crossings: Sequence[float]) -> float:
    """Return how much of a level line lies inside: between each two crossings."""
    return sum(end - start for start, end in zip(crossings[::2], crossings[1::2], strict=True))


def folds_off_border(shapes: FlatShapes) -> Iterator[tuple[str, FoldKey, float]]:
    """Yield each panel with a line of it that is off its border, and by how much."""
    from shapely import boundary, distance, points

    if not shapes.part.lines:
        return
    borders = dict(
        zip((p.name for p in shapes.part.panels), boundary(shapes.panel_areas), strict=True)
    )
    ends = [
        (panel, line.key, place)
        for line in shapes.part.lines
        for panel in (line.key.first, line.key.second)
        for piece in line.pieces
        for place in _along(piece)
    ]
    off = distance(points([end[2] for end in ends]), [borders[end[0]] for end in ends])
    worst: dict[tuple[str, FoldKey], float] = {}
    for (panel, line, _), by in zip(ends, off.tolist(), strict=True):
        worst[panel, line] = max(by, worst.get((panel, line), 0.0))
    yield from ((panel, line, by) for (panel, line), by in worst.items() if by > OFF)


def _along(piece: Path) -> Iterator[Place]:
    """Yield the corners of a line and the middles between them.

    An end may lie on the border of a panel where the line itself does not.
    """
    corners = flattened(piece, SAGITTA)
    yield from corners
    yield from (((x0 + x1) / 2, (y0 + y1) / 2) for (x0, y0), (x1, y1) in pairwise(corners))


def unlike_wanted(part: Part) -> Iterator[Unlike]:
    """Yield each panel that is named for a size its template was given, and does not have it.

    Of what no binding grafted on, only those that nearly have it: a template may use
    the name of a panel for something else.
    """
    for panel in part.panels:
        own = panel.name.removeprefix(GRAFTED)
        wanted = _given(part, panel).get(own)
        if isinstance(wanted, Length):
            box, asked = panel.bounds(), wanted.mm
            size = min((box.width, box.height), key=lambda side: magnitude(side - asked))
            is_grafted = own != panel.name
            if magnitude(size - asked) > OFF and (is_grafted or _is_near(size, asked)):
                yield Unlike(panel.name, size, asked, is_sure=is_grafted)


def _is_near(size: Number, other: Number) -> bool:
    return OFF < magnitude(size - other) < NEARLY


def _given(part: Part, panel: Panel) -> Mapping[str, object]:
    if panel.name.startswith(GRAFTED):
        return part.graft.parameters if part.graft else {}
    return part.parameters


def unlike_twins(part: Part) -> Iterator[Unlike]:
    """Yield each panel that is nearly, but not quite, as wide (at its narrower side) as its twin."""
    for panel, other in combinations(part.panels, 2):
        if _are_twins(panel.name, other.name):
            boxes = (panel.bounds(), other.bounds())
            sizes = [min(box.width, box.height) for box in boxes]
            if _is_near(sizes[0], sizes[1]):
                yield Unlike(panel.name, sizes[0], sizes[1], other.name)


def _are_twins(name: str, other: str) -> bool:
    """Return whether two names differ in one word only, and its two make a pair."""
    words, others = name.split("_"), other.split("_")
    differing = [{a, b} for a, b in zip(words, others, strict=False) if a != b]
    pairs = PAIRS_OF_PIECES if len(words) > 1 else PAIRS
    return len(words) == len(others) and len(differing) == 1 and differing[0] in pairs
