"""Where every panel of a bound book is, with the thickness of all that lies between.

Assembly knows rigid parts, whose layers share planes; the heights of the layers come from
the thickness of the book. A panel is shifted along its own normal, so that the same
shifts hold in the closed book and in the open one.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from ..book.book import Book
from ..book.mats import ROLE as MATS
from ..folding.assembly import Assembly
from ..folding.folded_book import FoldedBook
from ..folding.hosts import Host, hosts_of
from ..rigid import Pose
from .facets import Facet, facet_of, facets_of, placed
from .patches import EdgeKind, patches_of

PanelKey = tuple[str, str]
"""A panel of the book: the key of its part, its name."""

LYING = 1e-9  #: how far the cosine of a panel's slope may be from 1


def book_facets(
    folded: FoldedBook, assembly: Assembly, shifts: Mapping[PanelKey, float]
) -> dict[str, list[Facet]]:
    """Return what each part is made of where *assembly* has it, each panel shifted along its normal.

    Panels that are bent round others come in flat pieces; `bent_name` names them.
    """
    found: dict[str, list[Facet]] = {}
    for key, poses in assembly.places.items():
        places = {
            panel: placed(pose).shifted(shifts.get((key, panel), 0.0))
            for panel, pose in poses.items()
        }
        found[key] = _bent(facets_of(key, patches_of(folded.book.part(key).part), places))
    for key, pieces in assembly.bent.items():
        for number, piece in enumerate(pieces):
            shift = shifts.get((key, bent_name(piece.panel, number)), 0.0)
            place = placed(piece.pose).shifted(shift)
            found.setdefault(key, []).append(facet_of(key, piece.panel, piece.outline, place))
    return found


def bent_name(panel: str, number: int) -> str:
    """Return how shifts name a piece of a panel that is bent."""
    return f"{panel} {number}"


def _bent(facets: list[Facet]) -> list[Facet]:
    """Return *facets* with a fold wherever panels meet that are one face on the flat part.

    Cloth and reinforcement have no scores there and bend with what they lie on.
    """
    flat = facets[0].normal if facets else None
    if all(abs(float(facet.normal @ flat)) > 1 - LYING for facet in facets):
        return facets
    return [
        replace(
            facet,
            kinds=tuple(
                tuple(EdgeKind.FOLD if k is EdgeKind.NONE else k for k in ring)
                for ring in facet.kinds
            ),
        )
        for facet in facets
    ]


def true_shifts(folded: FoldedBook) -> dict[PanelKey, float]:
    """Return how far the middle of each lying panel is from where rigid folding puts it.

    What is stuck on a page moves as the page does, what covers a board as the board does.
    """
    heights = {name: float(pose.translation[2]) for name, pose in lying_panels(folded.assembly)}
    known = _known_rises(folded, heights)
    hosts = hosts_of(folded.book, folded.parts)
    found: dict[PanelKey, float] = {}
    for name, pose in lying_panels(folded.assembly):
        rise = known.get(name)
        if rise is None:
            bearers = _bearers(folded.book, name[0], hosts.get(name[0]), known)
            nearest = min(bearers, key=lambda one: abs(heights[one] - heights[name]), default=None)
            rise = known[nearest] if nearest else 0.0
        found[name] = rise if pose.normal[2] > 0 else -rise
    return found


def _known_rises(folded: FoldedBook, heights: Mapping[PanelKey, float]) -> dict[PanelKey, float]:
    """Return by how much higher than in rigid folding each panel lies whose height is known."""
    upright = folded.thickness.upright
    return {name: upright[name] - height for name, height in heights.items() if name in upright}


def _bearers(
    book: Book, key: str, host: Host | None, known: Mapping[PanelKey, float]
) -> Sequence[PanelKey]:
    """Return the panels with one of which a part without a height of its own may move."""
    if host is not None and book.part(key).role == MATS:
        return [name for name in known if name == (host.part, host.panel)]
    if host is not None and any(name[0] == host.part for name in known):
        return [name for name in known if name[0] == host.part]
    return [name for name in known if book.part(name[0]).role == "boards"]


def lying_panels(assembly: Assembly) -> Iterator[tuple[PanelKey, Pose]]:
    """Yield what is parallel to the boards of the closed book: panels, and pieces of bent ones."""
    for key, poses in assembly.places.items():
        for panel, pose in poses.items():
            if _is_lying(pose):
                yield (key, panel), pose
    for key, pieces in assembly.bent.items():
        for number, piece in enumerate(pieces):
            if _is_lying(piece.pose):
                yield (key, bent_name(piece.panel, number)), piece.pose


def _is_lying(pose: Pose) -> bool:
    return abs(float(pose.normal[2])) > 1 - LYING
