"""Folding held against the example files of the FOLD specification 1.2.

Source: github.com/edemaine/fold, examples (MIT): diagonal-cp and diagonal-folded
are one sheet before and after; squaretwist, simple and box are given folded in
space only, so they are laid flat here by the lengths and angles of their faces,
the fold angles are read off the faces' normals, and folding must bring back what
the file says.
"""

import json
import math
from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import combinations
from pathlib import Path as File
from typing import NamedTuple

import pytest

from dielines.part import FoldKey, Line, LineKind
from dielines.paths import Path, Point, line, polyline
from dielines.poses import poses, residuals

DATA = File(__file__).parent / "data" / "fold"
Vector = Sequence[float]


class Fold(NamedTuple):
    """A fold between two faces along the edge from *start* to *end* of the first."""

    face: int
    other: int
    start: int
    end: int
    angle_deg: float
    assignment: str


def test_a_diagonal_crease_folds_onto_the_folded_form_of_the_same_sheet():
    sheet, folded = read("diagonal-cp"), read("diagonal-folded")
    flat = [Point(Fraction(x), Fraction(y)) for x, y in sheet["vertices_coords"]]
    panels = {
        f"f{i}": polyline([flat[v] for v in face], closed=True)
        for i, face in enumerate(sheet["faces_vertices"])
    }
    number = sheet["edges_assignment"].index("V")
    start, end = (flat[v] for v in sheet["edges_vertices"][number])
    angle = Fraction(sheet["edges_foldAngle"][number])
    crease = Line(FoldKey("f0", "-", "f1"), LineKind.FOLD, angle, (line(start, end),))
    placed = poses(panels, [crease], root="f0")
    for i, face in enumerate(folded["faces_vertices"]):
        corners = [placed[f"f{i}"].at(flat[v]) for v in face]
        assert corners == [(*folded["vertices_coords"][v], 0) for v in face]
        assert placed[f"f{i}"].normal[2] == folded["faces_flatFoldOrientation"][i]


@pytest.mark.parametrize(
    ("name", "loops", "tolerance"),
    [("squaretwist", 4, 2e-6), ("simple", 0, 1e-14), ("box", 17, 1e-13)],
)
def test_a_model_laid_flat_folds_up_into_the_form_that_the_file_says(name, loops, tolerance):
    """The coordinates of the square twist have six decimals, those of the others are exact."""
    model = Model(name)
    placed = poses(model.panels, model.lines, root="f0")
    assert model.error_of({f: placed[f"f{f}"] for f in model.flat}) < tolerance
    found = residuals(model.panels, model.lines, stages=[Fraction(1)], root="f0")
    assert len(found) == loops
    assert max((residual.gap for residual in found), default=0) < tolerance


@pytest.mark.parametrize("name", ["squaretwist", "simple"])
def test_valley_and_mountain_are_those_of_the_file(name):
    for fold in Model(name).folds:
        assert (fold.angle_deg > 0) == (fold.assignment == "V")


def test_one_wrong_sign_leaves_the_square_twist_open():
    model = Model("squaretwist")
    first, *others = model.lines
    turned = Line(first.key, first.kind, -first.angle_deg, first.pieces)
    found = residuals(model.panels, [turned, *others], stages=[Fraction(1)], root="f0")
    assert max(residual.gap for residual in found) > 0.1


def read(name: str) -> dict:
    return json.loads((DATA / f"{name}.fold").read_text(encoding="utf-8"))


class Model:
    """A folded form: its folds with their angles, and its faces laid flat side by side."""

    def __init__(self, name: str) -> None:
        data = read(name)
        self.at: list[Vector] = data["vertices_coords"]
        self.faces: list[list[int]] = data["faces_vertices"]
        self.normals = [normal([self.at[v] for v in face]) for face in self.faces]
        edges = zip(data["edges_vertices"], data["edges_assignment"], strict=True)
        self.assignments = {frozenset(edge): letter for edge, letter in edges}
        self.sides = {edge: f for f, face in enumerate(self.faces) for edge in around(face)}
        self.folds = [self.fold(*edge) for edge in self.sides if self.is_first(edge)]
        self.flat = self.laid_flat()

    @property
    def panels(self) -> dict[str, Path]:
        return {
            f"f{f}": polyline([places[v] for v in self.faces[f]], closed=True)
            for f, places in self.flat.items()
        }

    @property
    def lines(self) -> list[Line]:
        found = []
        for face, other, start, end, angle_deg, _ in self.folds:
            piece = line(self.flat[face][start], self.flat[face][end])
            key = FoldKey(f"f{face}", "-", f"f{other}")
            found.append(Line(key, LineKind.FOLD, angle_deg, (piece,)))
        return found

    def is_first(self, edge: tuple[int, int]) -> bool:
        return self.sides.get(edge[::-1], -1) > self.sides[edge]

    def fold(self, start: int, end: int) -> Fold:
        """Return the fold of an edge; the normals do not tell +180 from -180, the letter does."""
        face, other = self.sides[start, end], self.sides[end, start]
        along = unit(minus(self.at[end], self.at[start]))
        sine = -dot(cross(self.normals[face], self.normals[other]), along)
        angle = math.degrees(math.atan2(sine, dot(self.normals[face], self.normals[other])))
        letter = self.assignments[frozenset((start, end))]
        if abs(angle) > 180 - 1e-4:
            angle = 180 if letter == "V" else -180
        return Fold(face, other, start, end, angle, letter)

    def laid_flat(self) -> dict[int, dict[int, Point]]:
        """Return the corners of each face in the plane, laid beside a face that lies there already."""
        start, end = self.faces[0][:2]
        length = math.dist(self.at[start], self.at[end])
        flat = {0: self.laid(0, start, end, Point(0.0, 0.0), Point(length, 0.0))}
        waiting = [0]
        for face in waiting:
            for a, b in around(self.faces[face]):
                other = self.sides.get((b, a))
                if other is not None and other not in flat:
                    flat[other] = self.laid(other, a, b, flat[face][a], flat[face][b])
                    waiting.append(other)
        return flat

    def laid(self, face: int, a: int, b: int, flat_a: Point, flat_b: Point) -> dict[int, Point]:
        along = unit(minus(self.at[b], self.at[a]))
        across = cross(self.normals[face], along)
        dx, dy = unit(minus(flat_b, flat_a))
        places = {}
        for v in self.faces[face]:
            far = minus(self.at[v], self.at[a])
            p, q = dot(far, along), dot(far, across)
            places[v] = Point(flat_a.x + p * dx - q * dy, flat_a.y + p * dy + q * dx)
        return places

    def error_of(self, placed: dict) -> float:
        """Return the largest error of any distance between two corners of any two faces."""
        pairs = [
            (placed[f].at(place), self.at[v])
            for f, places in self.flat.items()
            for v, place in places.items()
        ]
        return max(
            abs(math.dist(ours, our_other) - math.dist(theirs, their_other))
            for (ours, theirs), (our_other, their_other) in combinations(pairs, 2)
        )


def around(face: Sequence[int]) -> Iterator[tuple[int, int]]:
    return zip(face, [*face[1:], face[0]], strict=True)


def normal(corners: Sequence[Vector]) -> Vector:
    """Return the unit normal of a plane polygon (Newell's sum of cross products)."""
    total = [0.0, 0.0, 0.0]
    for a, b in zip(corners, [*corners[1:], corners[0]], strict=True):
        total = [x + y for x, y in zip(total, cross(a, b), strict=True)]
    return unit(total)


def minus(a: Vector, b: Vector) -> Vector:
    return [x - y for x, y in zip(a, b, strict=True)]


def dot(a: Vector, b: Vector) -> float:
    return sum(x * y for x, y in zip(a, b, strict=True))


def cross(a: Vector, b: Vector) -> Vector:
    return [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]


def unit(a: Vector) -> Vector:
    length = math.hypot(*a)
    return [x / length for x in a]
