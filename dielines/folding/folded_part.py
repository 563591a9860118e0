"""A part folded as its steps declare: where each panel is, and which lies over which."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

from ..part import Part
from ..paths import Number, Path
from ..poses import FINISHED, Residual, poses
from ..rigid import Pose
from .layering import Layering


@dataclass(frozen=True)
class FoldedPart:
    """One part, finished. *root* is the panel that stays where it lies on the flat part."""

    part: Part
    root: str
    poses: Mapping[str, Pose]  #: of every panel, flat part to folded part, mm
    layering: Layering
    open_loops: tuple[Residual, ...]  #: folds of loops that do not close, at each stage

    @cached_property
    def outlines(self) -> Mapping[str, Path]:
        """The outline of every panel, by name, on the flat part."""
        return outlines_of(self.part)

    @cached_property
    def holes(self) -> Mapping[str, Sequence[Path]]:
        """The holes of every panel, by name, on the flat part."""
        return {panel.name: panel.holes for panel in self.part.panels}

    def at(self, stage: Number) -> dict[str, Pose]:
        """Return the pose of every panel at *stage*, 0 flat to 1 finished, the root at rest."""
        return posed_part(self.part, self.root, stage)

    def side_of(self, panel: str, other: str) -> int:
        """Return +1 where *other* lies on the face side of *panel*, -1 on its reverse, else 0."""
        return self.layering.sides.get((panel, other), 0)


def outlines_of(part: Part) -> dict[str, Path]:
    """Return the outline of every panel of *part*, by name."""
    return {panel.name: panel.outline for panel in part.panels}


def posed_part(part: Part, root: str, stage: Number = FINISHED) -> dict[str, Pose]:
    """Return the pose of every panel of *part* at *stage* with *root* at rest."""
    return poses(outlines_of(part), part.lines, part.steps, stage, root, part.rigid)


def root_of(part: Part) -> str:
    """Return the panel of *part* that stays where it lies: the bound one, else the largest."""
    if part.bound is not None:
        return part.bound.panel.split(" ")[0]
    from ..hinges import skeleton

    return skeleton(outlines_of(part), part.lines, "", part.rigid).root
