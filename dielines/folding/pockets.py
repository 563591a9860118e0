"""Which panels make each pocket of a part: its front, its back, the seams between them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from ..landing import land
from ..part import Edge, Line, Part, Side
from ..paths import bounds_of
from .folded_part import FoldedPart

GRAFTED = "binding."  #: what a binding added is no wall of a pocket
PARALLEL = 1 - 1e-9  #: cosine from which on two panels are parallel
NEAR = 1e-3  #: mm; places and heights closer than this are the same


@dataclass(frozen=True, slots=True)
class Pocket:
    """A pocket by its panels. *inside* is the side of its front that looks into it."""

    front: str
    inside: Side
    back: str
    seams: tuple[str, ...]  #: taped to the back, inside the pocket


def pockets_of(folded: FoldedPart) -> Iterator[Pocket]:
    """Yield the pockets of a part, in the order in which it declares their mouths."""
    for mouth in folded.part.mouths:
        inside = _inside(folded.part, mouth)
        if inside is not None:
            over = list(_over(folded, mouth.panel, inside))
            pocket = _pocket(folded, mouth.panel, inside, over)
            if pocket is not None:
                yield pocket


def _inside(part: Part, mouth: Edge) -> Side | None:
    """Return the side to which the walls at the front's closed edges fold."""
    turn = sum(
        (line.angle_deg > 0) - (line.angle_deg < 0)
        for line in part.folds
        if _is_wall_of(line, mouth)
    )
    if not turn:
        return None
    return Side.FACE if turn > 0 else Side.REVERSE


def _is_wall_of(line: Line, mouth: Edge) -> bool:
    names = line.key.panels()
    if mouth.panel not in names or any(name.startswith(GRAFTED) for name in names):
        return False
    return not _lies_on(line, mouth)


def _lies_on(line: Line, mouth: Edge) -> bool:
    axis = 0 if mouth.start.x == mouth.end.x else 1
    at = float(mouth.start[axis])
    points = [point for piece in line.pieces for point in piece.points]
    return all(abs(float(point[axis]) - at) < NEAR for point in points)


def _over(folded: FoldedPart, front: str, inside: Side) -> Iterator[tuple[float, str]]:
    """Yield the panels over the inside of *front* with their rigid heights over it."""
    sign = 1 if inside is Side.FACE else -1
    here = bounds_of([folded.outlines[front]])
    for name, outline in folded.outlines.items():
        if name == front or name.startswith(GRAFTED) or not _are_parallel(folded, front, name):
            continue
        landed = land(folded.poses[name], folded.poses[front], outline)
        box, height = bounds_of([landed.path]), sign * float(landed.distance)
        shares = (
            min(box.right, here.right) - max(box.left, here.left) > NEAR
            and min(box.top, here.top) - max(box.bottom, here.bottom) > NEAR
        )
        is_inside = height > NEAR or (height > -NEAR and folded.side_of(front, name) == sign)
        if shares and is_inside:
            yield height, name


def _are_parallel(folded: FoldedPart, panel: str, other: str) -> bool:
    normals = (folded.poses[panel].normal, folded.poses[other].normal)
    return abs(sum(float(a) * float(b) for a, b in zip(*normals, strict=True))) > PARALLEL


def _pocket(
    folded: FoldedPart, front: str, inside: Side, over: list[tuple[float, str]]
) -> Pocket | None:
    """Return the pocket whose back is what its front is taped to, or the nearest untaped panel."""
    zones, names = folded.part.zones, {name for _, name in over}
    taped = {z.panel for z in zones if z.panel in names and z.onto in names}
    targets = {z.onto for z in zones if z.panel == front and z.onto in names}
    backs = sorted(
        (height, name)
        for height, name in over
        if name in targets or (not targets and name not in taped)
    )
    if not backs:
        return None
    back = backs[0][1]
    onto_back = dict.fromkeys(z.panel for z in zones if z.onto == back and z.panel in names)
    side = folded.side_of(back, front)
    seams = tuple(name for name in onto_back if folded.side_of(back, name) == side)
    return Pocket(front, inside, back, seams)
