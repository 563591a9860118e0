"""How panels stand in the closed book: their directions, edges and scores."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import NamedTuple

from ..book.book import Book
from ..part import FoldKey, Line, LineKind, Panel, Part
from ..paths import Bounds, Point, flattened
from ..rigid import Pose

Vector = tuple[float, float, float]
Flat = tuple[float, float]
Places = Mapping[str, Mapping[str, Pose]]

PARALLEL = 1e-6  #: sine of the angle up to which two directions are parallel
SAME = 1e-4  #: mm; edges and scores this near lie on one line
LEVEL = 1 - 1e-9  #: cosine from which a direction counts as that of an axis
SIDES: Mapping[str, Flat] = {
    "left": (-1.0, 0.0),
    "right": (1.0, 0.0),
    "bottom": (0.0, -1.0),
    "top": (0.0, 1.0),
}


class Score(NamedTuple):
    """The straight line that one pull of the scoring tool makes: its name, its unit normal."""

    name: str
    normal: Flat
    offset: float  #: of the line from the part's origin along the normal, mm


class Border(NamedTuple):
    """The edge of a panel that lies farthest in a direction of its flat part."""

    outward: Flat
    at: float  #: mm from the part's origin, outward
    score: Score | None  #: None where the edge is cut


@dataclass(frozen=True)
class Standing:
    """The parts of a closed book, each panel with its pose, each part with its scores."""

    book: Book
    parts: Mapping[str, Part]
    places: Places
    scores: Mapping[str, Mapping[FoldKey, Score]]
    roles: Mapping[str, str]  #: of each part: pages, boards, ...

    def pose(self, part: str, panel: str) -> Pose | None:
        """Return the pose of a panel in the book, None where it has none."""
        return self.places.get(part, {}).get(panel)

    def is_page_like(self, part: str, panel: str) -> bool:
        """Return whether a panel is placed, and parallel to the pages."""
        pose = self.pose(part, panel)
        return pose is not None and lies_like_pages(pose)

    def border(self, part: str, panel: str, outward: Flat) -> Border:
        """Return the edge of a panel that lies farthest *outward*."""
        return border(self.parts[part].panel(panel), outward, self.scores[part])


def standing_of(book: Book, places: Places) -> Standing:
    """Return the parts of *book* as they stand at *places*."""
    parts = {entry.key: entry.part for entry in book.parts}
    alike = {id(part): part for part in parts.values()}
    scores = {key: scores_of(part) for key, part in alike.items()}
    by_key = {key: scores[id(part)] for key, part in parts.items()}
    return Standing(book, parts, places, by_key, {entry.key: entry.role for entry in book.parts})


def turned(pose: Pose, direction: Flat) -> Vector:
    """Return how a direction of the flat part looks in the book."""
    x, y = direction
    first, second, third = (float(row[0]) * x + float(row[1]) * y for row in pose.rotation)
    return first, second, third


def turned_back(pose: Pose, direction: Vector) -> Flat:
    """Return what looks in a direction of the book, on a flat part that is parallel to it."""
    rows = [(float(row[0]), float(row[1])) for row in pose.rotation]
    x = sum(row[0] * along for row, along in zip(rows, direction, strict=True))
    y = sum(row[1] * along for row, along in zip(rows, direction, strict=True))
    return x, y


def lies_like_pages(pose: Pose) -> bool:
    """Return whether a panel is parallel to the pages of the closed book."""
    return all(abs(float(along)) < PARALLEL for along in pose.normal[:2])


def scores_of(part: Part) -> dict[FoldKey, Score]:
    """Return the score of every straight fold; folds on one line share a score."""
    found: dict[FoldKey, Score] = {}
    for line in part.lines:
        score = _score_of(line)
        if score:
            found[line.key] = next((s for s in found.values() if _are_one(s, score)), score)
    return found


def _score_of(line: Line) -> Score | None:
    if line.kind is not LineKind.FOLD or not line.is_straight:
        return None
    piece = max((_ends(piece.points) for piece in line.pieces), key=lambda ends: math.dist(*ends))
    (x0, y0), (x1, y1) = sorted(piece)
    length = math.dist((x0, y0), (x1, y1))
    if length < SAME:
        return None
    across, up = (y1 - y0) / length, (x0 - x1) / length
    normal = max((across, up), (-across, -up))  # to the right; across a level line up
    return Score(str(line.key), normal, normal[0] * x0 + normal[1] * y0)


def _ends(points: tuple[Point, ...]) -> tuple[Flat, Flat]:
    first, last = points[0], points[-1]
    return (float(first.x), float(first.y)), (float(last.x), float(last.y))


def _are_one(score: Score, other: Score) -> bool:
    is_parallel = math.dist(score.normal, other.normal) < PARALLEL
    return is_parallel and abs(score.offset - other.offset) < SAME


def border(panel: Panel, outward: Flat, scores: Mapping[FoldKey, Score]) -> Border:
    """Return the edge of *panel* that lies farthest *outward*, a unit vector of its flat part."""
    at = reach(panel, outward)
    for key, score in scores.items():
        along = score.normal[0] * outward[0] + score.normal[1] * outward[1]
        is_here = abs(abs(along) - 1) < PARALLEL and abs(score.offset * along - at) < SAME
        if is_here and panel.name in key.panels():
            return Border(outward, at, score)
    return Border(outward, at, None)


def reach(panel: Panel, outward: Flat) -> float:
    """Return how far a panel reaches outward from the origin of its flat part, mm."""
    x, y = outward
    if max(abs(x), abs(y)) < LEVEL:
        return max(x * px + y * py for px, py in flattened(panel.outline))
    return side_of(panel.bounds(), outward)


def side_of(box: Bounds, outward: Flat) -> float:
    """Return how far a rectangle reaches towards one of its sides."""
    x, y = outward
    if abs(x) > abs(y):
        return float(box.right if x > 0 else -box.left)
    return float(box.top if y > 0 else -box.bottom)
