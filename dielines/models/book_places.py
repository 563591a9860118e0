"""Where every panel of a bound book is, with the thickness of all that lies between.

Assembly knows rigid parts, whose layers share planes; the heights of the layers come from
the thickness of the book. A panel is shifted along its own normal, so that the same
shifts hold in the closed book and in the open one.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

from ..folding.folded_book import FoldedBook
from .facets import Placed, placed

if TYPE_CHECKING:
    from ..folding.assembly import Assembly

PanelKey = tuple[str, str]
Places = dict[str, dict[str, Placed]]

LYING = 1e-9  #: how far the cosine of a panel's slope may be from 1


def closed_places(folded: FoldedBook) -> Places:
    """Return where each panel of each part is in the closed book, upright channels."""
    return shifted(folded.assembly, true_shifts(folded))


def opened_places(folded: FoldedBook, opening: int) -> Places:
    """Return the same for the book opened between page *opening* and the next; 0 opens the cover."""
    from ..folding.opening import opened

    assembly = opened(folded.book, folded.parts, folded.assembly, opening)
    return shifted(assembly, true_shifts(folded))


def shifted(assembly: Assembly, shifts: Mapping[PanelKey, float]) -> Places:
    """Return the places of an assembly, each panel shifted along its own normal."""
    return {
        key: {
            panel: placed(pose).shifted(shifts.get((key, panel), 0.0))
            for panel, pose in poses.items()
        }
        for key, poses in assembly.places.items()
    }


def true_shifts(folded: FoldedBook) -> dict[PanelKey, float]:
    """Return how far the middle of each lying panel is from where rigid folding puts it."""
    found: dict[PanelKey, float] = {}
    for key, poses in folded.assembly.places.items():
        for panel, pose in poses.items():
            height = folded.thickness.upright.get((key, panel))
            up = float(pose.normal[2])
            if height is not None and abs(up) > 1 - LYING:
                found[key, panel] = (height - float(pose.translation[2])) * (1 if up > 0 else -1)
    return found
