"""The panels of a flat part as pictures and models need them: corners, and what each edge is.

Arcs are chords here. The ends of every fold are corners of both of its panels, so
that a panel can be moved corner by corner, and each edge between two corners is
a free edge, a fold, or no line at all.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from enum import Enum
from functools import lru_cache
from itertools import pairwise

from ..part import Line, LineKind, Panel, Part, Purpose
from ..paths import Path, flattened, signed_area

SAGITTA = 0.05  #: mm, how far a chord may be off its arc
NEAR = 1e-5  #: mm; corners this near to a fold lie on it

Flat = tuple[float, float]
Span = tuple[Flat, Flat]


class EdgeKind(Enum):
    """How a line of a picture is drawn."""

    OUTLINE = "outline"
    FOLD = "fold"
    PERFORATION = "perforation"
    NONE = "none"  #: where two panels are one face


@dataclass(frozen=True, slots=True)
class Detail:
    """A line on a panel: a slit, an extra score or a perforation."""

    corners: tuple[Flat, ...]
    kind: EdgeKind


@dataclass(frozen=True, slots=True)
class Patch:
    """One panel: *rings* (the exterior first, counter-clockwise) and the kind of each edge."""

    panel: str
    rings: tuple[tuple[Flat, ...], ...]
    kinds: tuple[tuple[EdgeKind, ...], ...]
    details: tuple[Detail, ...]


@dataclass(frozen=True, slots=True)
class Crease:
    """A piece of a fold from *start* to *end*, *left* being the panel on its left."""

    right: str
    left: str
    start: Flat
    end: Flat


@dataclass(frozen=True)
class Patches:
    """All panels of a part, by name, and the pieces of its folds."""

    panels: dict[str, Patch]
    creases: tuple[Crease, ...]


def patches_of(part: Part) -> Patches:
    """Return the panels of *part*, ready to be placed."""
    return _patches(part.panels, part.lines, part.rigid, _details(part))


@lru_cache(maxsize=256)
def _patches(
    panels: tuple[Panel, ...],
    lines: tuple[Line, ...],
    rigid: tuple[tuple[str, str], ...],
    details: tuple[tuple[str, Detail], ...],
) -> Patches:
    shapes = {panel.name: panel for panel in panels}
    seams: dict[str, list[tuple[EdgeKind, Span]]] = {name: [] for name in shapes}
    for kind, names, span in [*_line_spans(lines), *_rigid_spans(rigid, shapes)]:
        for name in names:
            seams[name].append((kind, span))
    found = {
        name: _patch(panel, seams[name], tuple(d for p, d in details if p == name))
        for name, panel in shapes.items()
    }
    return Patches(found, tuple(_creases(lines, found)))


def _details(part: Part) -> tuple[tuple[str, Detail], ...]:
    kinds = {
        Purpose.CUT: EdgeKind.OUTLINE,
        Purpose.SCORE: EdgeKind.FOLD,
        Purpose.PERFORATE: EdgeKind.PERFORATION,
    }
    return tuple(
        (stroke.panel, Detail(_corners(stroke.path), kinds[stroke.purpose]))
        for stroke in part.strokes
        if stroke.purpose in kinds
    )


def _corners(path: Path) -> tuple[Flat, ...]:
    points = flattened(path, SAGITTA)
    return tuple(points + points[:1] if path.closed else points)


def _line_spans(lines: Iterable[Line]) -> Iterator[tuple[EdgeKind, tuple[str, ...], Span]]:
    """Yield the straight pieces of every line."""
    kinds = {
        LineKind.FOLD: EdgeKind.FOLD,
        LineKind.PERFORATE: EdgeKind.PERFORATION,
        LineKind.SLIT: EdgeKind.OUTLINE,
    }
    for line in lines:
        for piece in line.pieces:
            for span in pairwise(_corners(piece)):
                yield kinds[line.kind], (line.key.first, line.key.second), span


def _rigid_spans(
    rigid: Iterable[tuple[str, str]], shapes: dict[str, Panel]
) -> Iterator[tuple[EdgeKind, tuple[str, ...], Span]]:
    """Yield the edges of both panels of a pair that is one face, for the other one to match."""
    for first, second in rigid:
        for name, other in ((first, second), (second, first)):
            for span in pairwise(_corners(shapes[other].outline)):
                yield EdgeKind.NONE, (name,), span


def _patch(panel: Panel, seams: list[tuple[EdgeKind, Span]], details: tuple[Detail, ...]) -> Patch:
    exterior = flattened(panel.outline, SAGITTA)
    if signed_area(panel.outline) < 0:
        exterior.reverse()
    rings, kinds = [], []
    for ring in (exterior, *(flattened(hole, SAGITTA) for hole in panel.holes)):
        edges = [edge for span in _edges(ring) for edge in _split(span, seams)]
        rings.append(tuple(start for (start, _), _ in edges))
        kinds.append(tuple(kind for _, kind in edges))
    return Patch(panel.name, tuple(rings), tuple(kinds), details)


def _edges(ring: list[Flat]) -> Iterator[Span]:
    for start, end in zip(ring, [*ring[1:], *ring[:1]], strict=True):
        if _distance(start, end) > NEAR:
            yield start, end


def _split(span: Span, seams: list[tuple[EdgeKind, Span]]) -> Iterator[tuple[Span, EdgeKind]]:
    """Yield *span* cut at the ends of the *seams* that lie along it, each piece with its kind."""
    along = [(kind, reach) for kind, seam in seams if (reach := _reach(span, seam)) is not None]
    length = _distance(*span)
    inner = {t for _, reach in along for t in reach if NEAR < t < length - NEAR}
    stops: list[float] = [0.0]
    stops += [t for t in sorted(inner) if t - stops[-1] > NEAR or stops == [0.0]]
    places = [_towards(span, t / length) for t in stops] + [span[1]]
    for (low, high), piece in zip(pairwise([*stops, length]), pairwise(places), strict=True):
        middle = (low + high) / 2
        kinds = [kind for kind, (a, b) in along if a < middle < b]
        yield piece, (kinds[0] if kinds else EdgeKind.OUTLINE)


def _reach(span: Span, seam: Span) -> tuple[float, float] | None:
    """Return from where to where along *span* (mm) the *seam* runs, or None where it does not."""
    (x0, y0), (x1, y1) = span
    length = _distance(*span)
    dx, dy = (x1 - x0) / length, (y1 - y0) / length
    places = []
    for x, y in seam:
        if abs(dx * (y - y0) - dy * (x - x0)) > NEAR:
            return None
        places.append(dx * (x - x0) + dy * (y - y0))
    low, high = min(places), max(places)
    return (low, high) if high > NEAR and low < length - NEAR else None


def _towards(span: Span, share: float) -> Flat:
    (x0, y0), (x1, y1) = span
    return x0 + (x1 - x0) * share, y0 + (y1 - y0) * share


def _distance(a: Flat, b: Flat) -> float:
    return math.hypot(b[0] - a[0], b[1] - a[1])


def _creases(lines: Iterable[Line], panels: dict[str, Patch]) -> Iterator[Crease]:
    """Yield the pieces of all folds, directed by the exterior of the panel on their left."""
    for line in lines:
        if line.kind is not LineKind.FOLD:
            continue
        first, second = line.key.first, line.key.second
        for piece in line.pieces:
            for start, end in pairwise(_corners(piece)):
                if _runs_along(panels[second], start, end):
                    yield Crease(first, second, start, end)
                elif _runs_along(panels[first], start, end):
                    yield Crease(second, first, start, end)
                elif _runs_along(panels[second], end, start):
                    yield Crease(first, second, end, start)
                elif _runs_along(panels[first], end, start):
                    yield Crease(second, first, end, start)


def _runs_along(patch: Patch, start: Flat, end: Flat) -> bool:
    """Return whether an edge of the exterior runs from *start* towards *end*, along that piece."""
    exterior = patch.rings[0]
    for edge in zip(exterior, exterior[1:] + exterior[:1], strict=True):
        reach = _reach((start, end), edge)
        if reach is not None:
            (x0, y0), (x1, y1) = edge
            return (x1 - x0) * (end[0] - start[0]) + (y1 - y0) * (end[1] - start[1]) > 0
    return False


def lies_on(point: Flat, crease: Crease) -> bool:
    """Return whether *point* lies on the piece of a fold, its ends included."""
    reach = _reach((crease.start, crease.end), (point, point))
    length = _distance(crease.start, crease.end)
    if reach is None:
        ends = (crease.start, crease.end)
        return any(_distance(point, end) <= NEAR for end in ends)
    return -NEAR <= reach[0] <= length + NEAR
