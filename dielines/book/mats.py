"""Mats: the decorative panels that are stuck on what shows of each page and flap.

A mat is the outline of a panel less a border on every side, notch, corners and
windows following, drawn as one looks at it with the head of the book up.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction

from ..bindings.bound import BoundPart, folded
from ..landing import PARALLEL, land, landing_of, overhang_of
from ..offsets import NothingLeft, inset
from ..part import Panel, Part, Side
from ..part_motion import MIRROR, at_origin, moved
from ..paths import Bounds, Number, Path, bounds_of, magnitude, reversed_path, signed_area
from ..rigid import AT_REST, Pose
from .request import Mats

ROLE = "mats"
NEAR = Fraction(1, 1000)  #: mm; heights closer than this are the same
#: a mat narrower than this many borders is no decoration but a strip (from memory)
LEAST_BORDERS = 6


@dataclass(frozen=True)
class Face:
    """One side of a panel as it shows in the folded page."""

    panel: Panel
    side: Side
    pose: Pose
    box: Bounds  #: of the panel, as it lies over the page
    height: Number  #: of the panel above the page

    @property
    def looks_up(self) -> bool:
        """Whether this side looks the way the face of the page looks."""
        return (self.pose.rotation[2][2] > 0) == (self.side is Side.FACE)


def mat_parts(entry: BoundPart, number: int, mats: Mats, border: Fraction) -> list[BoundPart]:
    """Return the mats of one page; *entry* is its bound part as it lies in the book."""
    if mats is Mats.NONE or entry.part.bound is None:
        return []
    root = entry.part.bound.panel.split(" ")[0]
    faces = list(showing_faces(entry.part, root, border))
    wanted = [face for face in faces if _is_wanted(face, faces, mats)]
    parts = []
    for face in wanted:
        part = _mat(face, entry.part, root, border)
        if part is not None:
            words = _words(face, faces)
            key = f"mat-{number}-{face.panel.name.replace('_', '-')}-{words}"
            title = f"mat of page {number}: {face.panel.name.replace('_', ' ')}, {words} side"
            parts.append(BoundPart(key, title, part, ROLE))
    return parts


def showing_faces(part: Part, root: str, border: Fraction) -> Iterator[Face]:
    """Yield the sides of large panels that show; the inside of a pocket does not."""
    poses = folded(part, root)
    mouths = {mouth.panel for mouth in part.mouths}
    taped = {zone.panel for zone in part.zones} - mouths
    panels = [
        panel
        for panel in part.panels
        if panel.name not in taped
        and 1 - magnitude(poses[panel.name].rotation[2][2]) < PARALLEL
        and min(panel.bounds()[2] - panel.bounds()[0], panel.bounds()[3] - panel.bounds()[1])
        >= LEAST_BORDERS * border
    ]
    faces = [
        Face(panel, side, poses[panel.name], *_place(panel, poses[panel.name]))
        for panel in panels
        for side in Side
    ]
    hidden = _hidden(faces, mouths) | _stuck(part, poses, mouths)
    yield from (face for face in faces if (face.panel.name, face.side) not in hidden)


def _place(panel: Panel, pose: Pose) -> tuple[Bounds, Number]:
    landed = land(pose, AT_REST, panel.outline)
    return bounds_of([landed.path]), landed.distance


def _stuck(part: Part, poses: Mapping[str, Pose], mouths: set[str]) -> set[tuple[str, Side]]:
    """Return the sides that are taped to each other where one is the front of a pocket.

    Pockets without depth lie flat, and only their tape says what is inside.
    """
    panels = {panel.name: panel.outline for panel in part.panels}
    stuck: set[tuple[str, Side]] = set()
    for zone in part.zones:
        if zone.onto in panels and {zone.panel, zone.onto} & mouths:
            faces = landing_of(zone, panels, poses).faces
            stuck.add((zone.panel, zone.side))
            stuck.update([(zone.onto, faces)] if faces else [])
    return stuck


def _hidden(faces: list[Face], mouths: set[str]) -> set[tuple[str, Side]]:
    """Return the sides inside a pocket: those between its front and what lies nearest to it.

    Pockets without depth are told by their tape.
    """
    hidden: set[tuple[str, Side]] = set()
    for front in (face for face in faces if face.panel.name in mouths):
        sign = 1 if front.looks_up else -1
        over = [
            other
            for other in faces
            if other.panel is not front.panel
            and other.looks_up != front.looks_up
            and sign * (other.height - front.height) > NEAR
            and _overlap(front.box, other.box)
        ]
        if not over or not _closes(front, over, faces, mouths):
            continue
        nearest = min(magnitude(other.height - front.height) for other in over)
        hidden.add((front.panel.name, front.side))
        hidden.update(
            (other.panel.name, other.side)
            for other in over
            if magnitude(other.height - front.height) <= nearest + NEAR
        )
    return hidden


def _closes(front: Face, over: list[Face], faces: list[Face], mouths: set[str]) -> bool:
    """Return whether the pocket lies on this side of its front: the nearer of both sides."""
    nearest = min(magnitude(other.height - front.height) for other in over)
    others = [
        magnitude(other.height - front.height)
        for other in faces
        if other.panel is not front.panel
        and other.looks_up == front.looks_up
        and (other.height < front.height) == front.looks_up
        and other.height != front.height
        and _overlap(front.box, other.box)
    ]
    return not others or nearest <= min(others)


def _overlap(a: Bounds, b: Bounds) -> bool:
    return a.left < b.right and b.left < a.right and a.bottom < b.top and b.bottom < a.top


def _is_wanted(face: Face, faces: list[Face], mats: Mats) -> bool:
    return mats is Mats.BOTH or (mats is Mats.OUTER) == _is_outer(face, faces)


def _is_outer(face: Face, faces: list[Face]) -> bool:
    """Return whether a side looks outward with nothing of the page behind it."""
    return not face.looks_up and not any(
        other.height < face.height - NEAR and _overlap(face.box, other.box) for other in faces
    )


def _words(face: Face, faces: list[Face]) -> str:
    if _is_outer(face, faces):
        return "outer"
    return "inner" if face.looks_up else "under"


def _mat(face: Face, page: Part, root: str, border: Fraction) -> Part | None:
    """Return the mat of a side, or None when the border leaves nothing of it."""
    name = face.panel.name
    try:
        outline = inset(face.panel.outline, border)
        holes = tuple(inset(_clockwise(hole), border) for hole in face.panel.holes)
    except NothingLeft:
        return None
    if not all(overhang_of(hole, outline).is_inside for hole in holes):
        return None
    lying = [land(face.pose, AT_REST, path).path for path in (outline, *holes)]
    outline, holes = lying[0], tuple(_clockwise(hole) for hole in lying[1:])
    part = Part(
        name=f"mat_{name}",
        template=page.template,
        version=page.version,
        stock="mat",
        grain="up",
        quantity=1,
        panels=(Panel("mat", outline, holes),),
        lines=(),
        outline=(outline, *holes),
    )
    seen = at_origin(part if face.looks_up else moved(part, MIRROR))
    return replace(seen, is_mirrored=False)


def _clockwise(path: Path) -> Path:
    return reversed_path(path) if signed_area(path) > 0 else path
