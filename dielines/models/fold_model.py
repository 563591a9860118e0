"""A part as frames of a FOLD file: flat with its creases, then folded after each step."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from itertools import pairwise

from ..folding.folded_part import FoldedPart
from ..part import FoldKey, Line, LineKind, Part
from ..paths import Number
from ..poses import angles_after
from ..rigid import Pose
from .fold_frames import (
    BORDER,
    CREASE_PATTERN,
    CUT,
    FLAT,
    FOLDED_FORM,
    JOIN,
    MOUNTAIN,
    VALLEY,
    Corner,
    FoldFile,
    FoldFrame,
)
from .keyholes import one_ring
from .patches import Crease, EdgeKind, Flat, Patch, lies_on, patches_of

DECIMALS = 6  #: of coordinates in mm, far below what a cut can show
_WELD = 5  #: decimals to which corners of two panels are compared


@dataclass(frozen=True, slots=True)
class _Edge:
    """An edge of the flat pattern with the faces beside it; *line* is its fold, where it is one."""

    ends: tuple[int, int]
    kind: EdgeKind
    faces: tuple[int, ...]
    line: Line | None = None


@dataclass
class _Pattern:
    """The flat pattern in the making."""

    corners: list[Flat] = field(default_factory=list)
    numbers: dict[Flat, int] = field(default_factory=dict)

    def number(self, corner: Flat) -> int:
        """Return the number of a corner, a new one where there is none yet."""
        key = round(corner[0], _WELD) + 0.0, round(corner[1], _WELD) + 0.0
        if key not in self.numbers:
            self.numbers[key] = len(self.corners)
            self.corners.append(corner)
        return self.numbers[key]


def fold_model(folded: FoldedPart, title: str = "") -> FoldFile:
    """Return the frames of a part: its crease pattern, then its form after each step, in mm.

    Arcs are chords. A hole is joined to the outline of its panel by an edge "J";
    so are panels that are one face. A slit is one edge "C" in the pattern and two
    edges "B" in the folded form. Perforations and scores at rest are "F".
    """
    part = folded.part
    pattern = _Pattern()
    patches = [patches_of(part).panels[panel.name] for panel in part.panels]
    faces = [tuple(map(pattern.number, one_ring(patch.rings))) for patch in patches]
    edges = [*_edges(part, patches, faces, pattern), *_loose(patches, pattern)]
    key = _flat_frame(folded, pattern, faces, edges)
    count = len(angles_after(part.lines, part.steps)) - 1 if part.folds else 0
    forms = [_form(folded, k, count, pattern, faces, edges) for k in range(1, count + 1)]
    words = title or part.name
    return FoldFile(words, (key, *forms), "Model of a folded part, lengths in mm", ("singleModel",))


def _edges(
    part: Part, patches: Sequence[Patch], faces: Sequence[tuple[int, ...]], pattern: _Pattern
) -> Iterator[_Edge]:
    """Yield every edge of every face once."""
    kinds: dict[tuple[int, int], EdgeKind] = {}
    for patch in patches:
        for ring, ring_kinds in zip(patch.rings, patch.kinds, strict=True):
            ends = zip(ring, [*ring[1:], ring[0]], strict=True)
            for (start, end), kind in zip(ends, ring_kinds, strict=True):
                kinds.setdefault(_pair(pattern.number(start), pattern.number(end)), kind)
    beside: dict[tuple[int, int], list[int]] = {}
    for number, face in enumerate(faces):
        for ends_of in pairwise([*face, face[0]]):
            beside.setdefault(_pair(*ends_of), []).append(number)
    for pair, numbers in beside.items():
        kind = kinds.get(pair, EdgeKind.NONE)
        names = frozenset(patches[number].panel for number in numbers)
        line = _line_at(part, names, [pattern.corners[i] for i in pair])
        yield _Edge(pair, kind, tuple(numbers), line)


def _pair(a: int, b: int) -> tuple[int, int]:
    return (a, b) if a < b else (b, a)


def _line_at(part: Part, names: frozenset[str], ends: Sequence[Flat]) -> Line | None:
    """Return the line between two panels that runs through the middle of an edge."""
    (x0, y0), (x1, y1) = ends
    middle = (x0 + x1) / 2, (y0 + y1) / 2
    for line in part.lines:
        if line.key.panels() == names:
            spans = (span for piece in line.pieces for span in pairwise(_points(piece.points)))
            if not line.is_straight or any(lies_on(middle, Crease("", "", *s)) for s in spans):
                return line
    return None


def _points(points: Sequence[tuple[Number, Number]]) -> list[Flat]:
    return [(float(x), float(y)) for x, y in points]


def _loose(patches: Sequence[Patch], pattern: _Pattern) -> Iterator[_Edge]:
    """Yield slits and scores inside of panels; they belong to the face that they lie on."""
    for number, patch in enumerate(patches):
        for detail in patch.details:
            for start, end in pairwise(detail.corners):
                ends = pattern.number(start), pattern.number(end)
                yield _Edge(ends, detail.kind, (number, number))


def _letter(edge: _Edge, angle: Number) -> str:
    if edge.kind is EdgeKind.NONE:
        return JOIN
    if edge.kind is EdgeKind.OUTLINE:
        return CUT if len(edge.faces) > 1 else BORDER
    if not angle:
        return FLAT
    return VALLEY if angle > 0 else MOUNTAIN


def _angle(edge: _Edge, angles: Mapping[FoldKey, Number]) -> float:
    if edge.line is None or edge.line.kind is not LineKind.FOLD or not edge.line.is_straight:
        return 0.0
    return float(angles[edge.line.key])


def _attributes(
    faces: Sequence[Sequence[int]], corners: Sequence[Corner], letters: Sequence[str]
) -> tuple[str, ...]:
    convex = all(_is_convex([corners[i] for i in face]) for face in faces)
    return (
        "orientable",
        "cuts" if CUT in letters else "noCuts",
        "joins" if JOIN in letters else "noJoins",
        "convexFaces" if convex else "nonConvexFaces",
    )


def _is_convex(ring: Sequence[Corner]) -> bool:
    turned, after = [*ring[1:], ring[0]], [*ring[2:], *ring[:2]]
    return all(
        (b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0]) >= -1e-6
        for a, b, c in zip(ring, turned, after, strict=True)
    )


def _flat_frame(
    folded: FoldedPart, pattern: _Pattern, faces: Sequence[tuple[int, ...]], edges: Sequence[_Edge]
) -> FoldFrame:
    """Return the key frame: flat, each fold with the angle that it will have."""
    finished = {line.key: line.angle_deg for line in folded.part.folds}
    angles = tuple(_angle(edge, finished) for edge in edges)
    letters = tuple(_letter(edge, angle) for edge, angle in zip(edges, angles, strict=True))
    corners = tuple((_rounded(x), _rounded(y)) for x, y in pattern.corners)
    return FoldFrame(
        vertices=corners,
        edges=tuple(edge.ends for edge in edges),
        assignments=letters,
        angles_deg=angles,
        faces=tuple(faces),
        title="flat",
        classes=(CREASE_PATTERN,),
        attributes=("2D", *_attributes(faces, corners, letters)),
        unit="mm",
        panels=tuple(panel.name for panel in folded.part.panels),
        lines=tuple(str(edge.line.key) if edge.line else "" for edge in edges),
    )


def _form(
    folded: FoldedPart,
    step: int,
    count: int,
    pattern: _Pattern,
    faces: Sequence[tuple[int, ...]],
    edges: Sequence[_Edge],
) -> FoldFrame:
    """Return the form after *step* of *count* steps; corners along slits are parted."""
    part = folded.part
    poses = folded.at(Fraction(step, count))
    welded = _welded(faces, edges)
    corners: dict[tuple[int, int], int] = {}
    places: list[Corner] = []
    for face, corner in welded:
        leader = welded[face, corner]
        if leader not in corners:
            corners[leader] = len(places)
            places.append(_place(poses[part.panels[leader[0]].name], pattern.corners[leader[1]]))

    def number(face: int, corner: int) -> int:
        return corners[welded[face, corner]]

    reached = angles_after(part.lines, part.steps)[step]
    rows = [row for edge in edges for row in _rows(edge, _angle(edge, reached))]
    names = [panel.name for panel in part.panels]
    letters = tuple(letter for _, _, letter, _, _ in rows)
    flat = _attributes(faces, pattern.corners, letters)
    return FoldFrame(
        vertices=tuple(places),
        edges=tuple((number(face, a), number(face, b)) for face, (a, b), _, _, _ in rows),
        assignments=letters,
        angles_deg=tuple(angle for _, _, _, angle, _ in rows),
        faces=tuple(tuple(number(f, c) for c in face) for f, face in enumerate(faces)),
        orders=tuple(_orders(folded, names)) if step == count else (),
        title="folded" if step == count else f"after step {step} of {count}",
        classes=(FOLDED_FORM,),
        attributes=("3D", *flat),
        unit="mm",
        panels=tuple(names),
        lines=tuple(name for _, _, _, _, name in rows),
    )


_Row = tuple[int, tuple[int, int], str, float, str]


def _rows(edge: _Edge, angle: float) -> Iterator[_Row]:
    """Yield face, ends, letter, angle and name of an edge; of a slit its two borders."""
    letter = _letter(edge, angle)
    name = str(edge.line.key) if edge.line else ""
    if letter == CUT:
        for face in dict.fromkeys(edge.faces):
            parted = BORDER if edge.faces[0] != edge.faces[-1] else CUT
            yield face, edge.ends, parted, 0.0, name
    else:
        yield edge.faces[0], edge.ends, letter, angle, name


def _welded(
    faces: Sequence[tuple[int, ...]], edges: Sequence[_Edge]
) -> dict[tuple[int, int], tuple[int, int]]:
    """Return for each (face, corner) the first one that it hangs together with."""
    leaders = {(f, corner): (f, corner) for f, face in enumerate(faces) for corner in face}
    for edge in edges:
        leaders.update({(f, corner): (f, corner) for f in edge.faces for corner in edge.ends
                        if (f, corner) not in leaders})  # fmt: skip

    def leader(one: tuple[int, int]) -> tuple[int, int]:
        while leaders[one] != one:
            one = leaders[one]
        return one

    for edge in edges:
        if edge.kind is not EdgeKind.OUTLINE and len(set(edge.faces)) == 2:
            for corner in edge.ends:
                first, second = sorted(leader((face, corner)) for face in set(edge.faces))
                leaders[second] = first
    return {one: leader(one) for one in leaders}


def _orders(folded: FoldedPart, names: Sequence[str]) -> Iterator[tuple[int, int, int]]:
    numbers = {name: number for number, name in enumerate(names)}
    for (below, other), side in sorted(folded.layering.sides.items()):
        if side and numbers[below] < numbers[other]:
            yield numbers[other], numbers[below], side


def _place(pose: Pose, corner: Flat) -> Corner:
    return tuple(_rounded(float(value)) for value in pose.at(corner))


def _rounded(value: float) -> float:
    return round(value, DECIMALS) + 0.0
