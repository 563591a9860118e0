"""Plain rigid folding of one flat part: where each panel is at any stage of folding.

No thickness and no order of layers: after a half turn two panels share a plane.
A positive angle (valley, FOLD 1.2) lifts a panel towards the face of its
neighbour. Input is the least that a part in the making has: outlines by name,
the lines between them, the steps.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from fractions import Fraction
from itertools import pairwise
from typing import NamedTuple

from .hinges import Hinge, Skeleton, skeleton
from .part import FoldKey, Line, LineKind, Step
from .paths import Number, Path, Point
from .rigid import AT_REST, Pose, distance_between, turn_about

Angles = Mapping[FoldKey, Number]

FINISHED = Fraction(1)

#: A loop that closes to within this (mm) holds; floats of a large part stay below 1e-12.
CLOSED = 1e-6


def poses(
    panels: Mapping[str, Path],
    lines: Sequence[Line],
    steps: Sequence[Step] = (),
    stage: Number = FINISHED,
    root: str = "",
    rigid: Iterable[tuple[str, str]] = (),
) -> dict[str, Pose]:
    """Return the pose of every panel at *stage* (0 flat to 1 finished) of the declared steps.

    *root* (the largest panel unless given) stays where it lies. *rigid* are pairs
    of panels that move as one. Exact where every angle is a quarter turn about
    upright or level folds. Raises UsageError where the part falls apart.
    """
    return posed(skeleton(panels, lines, root, rigid), fold_angles(lines, steps, stage))


def posed(bones: Skeleton, angles: Angles) -> dict[str, Pose]:
    """Return the pose of every panel with the folds at *angles* (degrees)."""
    placed = {bones.root: AT_REST}
    for link in bones.links:
        pose = placed[link.parent]
        placed[link.child] = pose.compose(_turn(link.hinge, angles)) if link.hinge else pose
    return placed


def _turn(hinge: Hinge, angles: Angles) -> Pose:
    return turn_about(hinge.start, hinge.end, angles[hinge.key])


def fold_angles(
    lines: Sequence[Line], steps: Sequence[Step], stage: Number
) -> dict[FoldKey, Number]:
    """Return the angle (degrees) of every fold at *stage*, 0 flat to 1 finished.

    With K steps, step k (from 0) moves its folds during k/K to (k + 1)/K, evenly
    from the angle reached before. Folds that the steps do not bring to their
    finished angle go there together in a last step.
    """
    if not 0 <= stage <= 1:
        raise ValueError(f"a stage of folding lies between 0 and 1, not at {stage}")
    reached = angles_after(lines, steps)
    moved = stage * (len(reached) - 1)
    done = min(int(moved), len(reached) - 2)
    return _between(reached[done], reached[done + 1], moved - done)


def _between(before: Angles, after: Angles, share: Number) -> dict[FoldKey, Number]:
    """Return the angles at *share* of a step; those at rest and at its ends as they are."""
    if share in (0, 1):
        return dict(after if share else before)
    return {
        key: angle if angle == after[key] else angle + (after[key] - angle) * share
        for key, angle in before.items()
    }


def angles_after(lines: Sequence[Line], steps: Sequence[Step]) -> list[dict[FoldKey, Number]]:
    """Return the angles of every fold lying flat, then after each step, the last one finished."""
    finished = {line.key: line.angle_deg for line in lines if line.kind is LineKind.FOLD}
    reached: list[dict[FoldKey, Number]] = [dict.fromkeys(finished, Fraction(0))]
    for step in steps:
        angles = {key: angle for key, angle in step.angles_deg if key in finished}
        reached.append({**reached[-1], **angles})
    if len(reached) == 1 or reached[-1] != finished:
        reached.append(finished)
    return reached


class Residual(NamedTuple):
    """How far a fold outside the tree is from what was declared, at a stage of folding.

    *gap* is the largest distance (mm) between where a vertex of the fold or of the
    panel beyond it is and where that fold, at its declared angle, would put it.
    """

    stage: Fraction
    key: FoldKey
    gap: float

    @property
    def is_closed(self) -> bool:
        """Whether the fold holds together at its declared angle."""
        return self.gap <= CLOSED


def residuals(
    panels: Mapping[str, Path],
    lines: Sequence[Line],
    steps: Sequence[Step] = (),
    stages: Sequence[Fraction] = (),
    root: str = "",
    rigid: Iterable[tuple[str, str]] = (),
) -> list[Residual]:
    """Return how far each loop gapes at each of the *stages* (see `stages_to_ask`).

    Empty where the part is a tree. A loop of half turns closes at the end
    whatever its signs (+180 and -180 are one rotation), so the stages between
    must be asked as well.
    """
    bones = skeleton(panels, lines, root, rigid)
    if not bones.loops:
        return []
    found = []
    for stage in stages or stages_to_ask(lines, steps):
        angles = fold_angles(lines, steps, stage)
        placed = posed(bones, angles)
        for hinge in bones.loops:
            corners = panels[hinge.child].points
            found.append(Residual(stage, hinge.key, _gap(hinge, corners, placed, angles)))
    return found


def stages_to_ask(lines: Sequence[Line], steps: Sequence[Step]) -> list[Fraction]:
    """Return the quarters, each step's end, and a third of each step from end to end.

    Quarters alone fall on the ends of four steps, where every half turn closes.
    """
    count = len(angles_after(lines, steps)) - 1
    ends = [Fraction(k, count) for k in range(count + 1)]
    between = [a + (b - a) / 3 for a, b in pairwise(ends)]
    quarters = [Fraction(k, 4) for k in range(1, 5)]
    return sorted({*quarters, *ends[1:], *between})


def _gap(
    hinge: Hinge, corners: Iterable[Point], placed: Mapping[str, Pose], angles: Angles
) -> float:
    """Return the largest distance of a vertex of the fold, or of a corner beyond it, in two poses.

    The corners count because the ends of the fold alone would not show a wrong
    sign of its angle.
    """
    parent, child = placed[hinge.parent], placed[hinge.child]
    declared = parent.compose(_turn(hinge, angles))
    torn = [distance_between(parent.at(point), child.at(point)) for point in hinge.points]
    if declared == child:
        return max(torn)
    return max(torn + [distance_between(declared.at(c), child.at(c)) for c in corners])
