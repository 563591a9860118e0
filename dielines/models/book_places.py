"""Where every panel of a bound book is, with the thickness of all that lies between.

Assembly knows rigid parts, whose layers share planes; the heights of the layers come from
the thickness of the book. A panel is shifted along its own normal, so that the same
shifts hold in the closed book and in the open one.
"""

from __future__ import annotations

from collections.abc import Mapping

from ..folding.assembly import Assembly
from ..folding.folded_book import FoldedBook
from .facets import Facet, facet_of, facets_of, placed
from .patches import patches_of

PanelKey = tuple[str, str]
"""A panel of the book: the key of its part, its name."""

LYING = 1e-9  #: how far the cosine of a panel's slope may be from 1


def book_facets(
    folded: FoldedBook, assembly: Assembly, shifts: Mapping[PanelKey, float]
) -> dict[str, list[Facet]]:
    """Return what each part is made of where *assembly* has it, each panel shifted along its normal.

    Panels that are bent round others come in flat pieces.
    """
    found: dict[str, list[Facet]] = {}
    for key, poses in assembly.places.items():
        places = {
            panel: placed(pose).shifted(shifts.get((key, panel), 0.0))
            for panel, pose in poses.items()
        }
        found[key] = facets_of(key, patches_of(folded.book.part(key).part), places)
    for key, pieces in assembly.bent.items():
        bent = [facet_of(key, one.panel, one.outline, placed(one.pose)) for one in pieces]
        found.setdefault(key, []).extend(bent)
    return found


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
