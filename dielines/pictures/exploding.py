"""An assembled book pulled apart: each part moved away from the others in one direction."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING, Any

from ..book.book import Book
from ..models.facets import Facet

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Array = NDArray[Any]

STEP, MOST = (
    0.34,
    3.2,
)  #: shares of the boards' width: from level to level at most, and all together
ASIDE = 0.42  #: share of the boards' width by which what covers the spine is moved out
OUTWARD = 0.2  #: share of the boards' width by which the strips of the edges are moved out
_OF_SPINE = ("lining", "boards", "wrap")  #: from the pages outwards


def pulled_apart(
    book: Book, facets: Mapping[str, list[Facet]], hosts: Mapping[str, str]
) -> dict[str, list[Facet]]:
    """Return the facets of each part, moved: pages and boards up, the spine aside, edges outwards.

    *hosts* are what reinforcement and mats are stuck on, by key; they move with it.
    """
    import numpy as np

    free = [key for key in facets if hosts.get(key) not in facets]
    centres = {key: _centre(facets[key]) for key in free}
    spine = [key for key in free if is_of_spine(book, key)]
    edges = [key for key in free if book.part(key).role == "edges"]
    stacked = [key for key in free if key not in spine and key not in edges]
    boards = [key for key in stacked if book.part(key).role == "boards"]
    width = max((_width(facets[key]) for key in boards or stacked), default=100.0)
    offsets = _lifts(stacked, centres, width)
    for key in spine:
        offsets[key] = np.array([-(1 + _rank(book, key)) * ASIDE * width, 0.0, 0.0])
    for key in edges:
        board = min(boards, key=lambda other: abs(centres[other][2] - centres[key][2]))
        offsets[key] = offsets[board] + _outward(centres[key] - centres[board]) * OUTWARD * width
    for key in facets:
        if key not in offsets:
            offsets[key] = offsets[hosts[key]]
    return {key: [facet.moved(offsets[key]) for facet in found] for key, found in facets.items()}


def _lifts(keys: list[str], centres: Mapping[str, Array], width: float) -> dict[str, Array]:
    """Return how far up each part goes, in the order in which they lie."""
    import numpy as np

    step = min(STEP, MOST / max(len(keys), 1)) * width
    ordered = sorted(keys, key=lambda key: round(float(centres[key][2]), 6))
    middle = (len(keys) - 1) / 2
    return {key: np.array([0.0, 0.0, (n - middle) * step]) for n, key in enumerate(ordered)}


def _outward(away: Array) -> Array:
    """Return the direction across or up in which something lies farther *away*."""
    import numpy as np

    across = abs(float(away[0])) >= abs(float(away[1]))
    axis = 0 if across else 1
    outward: Array = np.zeros(3)
    outward[axis] = 1.0 if away[axis] > 0 else -1.0
    return outward


def is_of_spine(book: Book, key: str) -> bool:
    """Return whether a part covers or stiffens the spine."""
    return book.part(key).role in ("lining", "wrap") or key == "spine-board"


def _rank(book: Book, key: str) -> int:
    return _OF_SPINE.index(book.part(key).role)


def _centre(facets: Iterable[Facet]) -> Array:
    import numpy as np

    places = np.vstack([facet.rings[0] for facet in facets])
    middle: Array = (places.min(axis=0) + places.max(axis=0)) / 2
    return middle


def _width(facets: Iterable[Facet]) -> float:
    import numpy as np

    places = np.vstack([facet.rings[0] for facet in facets])
    return float(np.ptp(places[:, 0]))
