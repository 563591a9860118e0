"""By how much one panel of a folded part is in the way of another, and since which step."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from fractions import Fraction
from itertools import combinations, pairwise

from ..hinges import Link, skeleton
from ..part import FoldKey, Line, Part
from ..paths import flattened
from ..poses import angles_after
from ..rigid import Pose, relative
from .folded_part import FoldedPart
from .meeting import IN_PLANE, PARALLEL, Flat

ASIDE = 1e-3  #: mm; what overlaps less along a crease does not lie in it


def beyond_crease(folded: FoldedPart, crease: FoldKey, layer: str) -> float:
    """Return how far (mm) a layer reaches out past a half-turn fold that is closed round it.

    Both panels of the fold lie on one side of it; what counts is what of the layer
    lies on the other side, between the ends of the fold.
    """
    line = _line(folded.part, crease)
    pose = relative(folded.poses[crease.first], folded.poses[layer])
    corners = [_flat(pose.at(corner)) for corner in flattened(folded.outlines[layer])]
    inside = _middle(flattened(folded.outlines[crease.first]))
    return max((_beyond(piece, inside, corners) for piece in _ends(line)), default=0.0)


def _line(part: Part, key: FoldKey) -> Line:
    return next(line for line in part.folds if line.key == key)


def _ends(line: Line) -> Iterable[tuple[Flat, Flat]]:
    for piece in line.pieces:
        points = flattened(piece)
        yield points[0], points[-1]


def _beyond(crease: tuple[Flat, Flat], inside: Flat, corners: Sequence[Flat]) -> float:
    """Return how far a ring of corners reaches past a crease, away from *inside*."""
    from shapely import Polygon, box, make_valid

    (x0, y0), (x1, y1) = crease
    length = ((x1 - x0) ** 2 + (y1 - y0) ** 2) ** 0.5
    ux, uy = (x1 - x0) / length, (y1 - y0) / length
    away = 1.0 if ux * (inside[1] - y0) - uy * (inside[0] - x0) < 0 else -1.0
    ring = [
        ((x - x0) * ux + (y - y0) * uy, away * (ux * (y - y0) - uy * (x - x0))) for x, y in corners
    ]
    high = max(out for _, out in ring)
    if high <= 0:
        return 0.0
    past = make_valid(Polygon(ring)).intersection(box(ASIDE, 0, length - ASIDE, high + 1))
    return 0.0 if past.is_empty else float(past.bounds[3])


def _flat(place: Sequence[object]) -> Flat:
    x, y, _ = place
    return float(x), float(y)  # type: ignore[arg-type]


def _middle(corners: Sequence[Flat]) -> Flat:
    from shapely import Polygon, make_valid

    point = make_valid(Polygon(corners)).representative_point()
    return float(point.x), float(point.y)


def stands_through(folded: FoldedPart, first: str, second: str, step: int) -> float:
    """Return how far (mm) one of two panels stands out through the other at the end of *step*.

    That is beyond the plane of the one nearer to the root, on the other side than the
    fold on which the one farther from it hangs.
    """
    part = folded.part
    bones = skeleton(folded.outlines, part.lines, folded.root, part.rigid)
    above = {link.child: link for link in bones.links}
    near, far = sorted((first, second), key=lambda name: len(_way_up(above, name)))
    poses = poses_after(folded)[step]
    pose = relative(poses[near], poses[far])
    heights = [float(pose.at(corner)[2]) for corner in flattened(folded.outlines[far])]
    hinge = next((link.hinge for link in _way_up(above, far) if link.hinge), None)
    held = float(pose.at(hinge.points[0])[2]) if hinge else 0.0
    if abs(held) <= IN_PLANE:
        return min(max(heights), -min(heights))
    return max(heights) if held < 0 else -min(heights)


def _way_up(above: Mapping[str, Link], panel: str) -> list[Link]:
    """Return the links from a panel up to the root, its own first."""
    way = []
    while panel in above:
        way.append(above[panel])
        panel = above[panel].parent
    return way


def poses_after(folded: FoldedPart) -> list[Mapping[str, Pose]]:
    """Return where every panel lies flat, then after each step."""
    count = len(angles_after(folded.part.lines, folded.part.steps)) - 1
    return [folded.at(Fraction(done, count)) for done in range(count + 1)]


def last_moved(folded: FoldedPart, panels: Iterable[str]) -> int:
    """Return the last step, counted from 1, in which some of *panels* move against each other.

    0 where no steps are declared, so that none can be blamed.
    """
    if not folded.part.steps:
        return 0
    pairs = list(combinations(sorted(set(panels)), 2))
    moved = [
        number
        for number, (before, after) in enumerate(pairwise(poses_after(folded)), 1)
        if any(_has_moved(before, after, a, b) for a, b in pairs)
    ]
    return max(moved, default=0)


def _has_moved(
    before: Mapping[str, Pose], after: Mapping[str, Pose], first: str, second: str
) -> bool:
    was, now = relative(before[first], before[second]), relative(after[first], after[second])
    turned = zip(_numbers(was), _numbers(now), strict=True)
    shifted = zip(was.translation, now.translation, strict=True)
    return any(abs(a - b) > PARALLEL for a, b in turned) or any(
        abs(float(a - b)) > IN_PLANE for a, b in shifted
    )


def _numbers(pose: Pose) -> list[float]:
    return [float(number) for row in pose.rotation for number in row]
