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


def pulled_apart(book: Book, facets: Mapping[str, list[Facet]]) -> dict[str, list[Facet]]:
    """Return the facets of each part, moved: pages and boards up, the spine aside, edges outwards."""
    import numpy as np

    centres = {key: _centre(found) for key, found in facets.items()}
    spine = [key for key in facets if _is_of_spine(book, key)]
    boards = [key for key in facets if key not in spine and book.part(key).role == "boards"]
    width = max((_width(facets[key]) for key in boards), default=100.0)
    stacked = [key for key in facets if key not in spine and book.part(key).role != "edges"]
    stacked.sort(key=lambda key: round(centres[key][2], 6))
    step = min(STEP, MOST / max(len(stacked), 1)) * width
    middle = (len(stacked) - 1) / 2
    lifts = {key: (level - middle) * step for level, key in enumerate(stacked)}
    offsets = {key: np.array([0.0, 0.0, lift]) for key, lift in lifts.items()}
    for key in spine:
        offsets[key] = np.array([-(1 + _rank(book, key)) * ASIDE * width, 0.0, 0.0])
    for key in facets:
        if book.part(key).role == "edges":
            board = min(boards, key=lambda other: abs(centres[other][2] - centres[key][2]))
            aside = centres[key] - centres[board]
            aside[2] = 0.0
            far = max(float(np.linalg.norm(aside)), 1e-9)
            offsets[key] = offsets[board] + aside / far * OUTWARD * width
    return {key: [facet.moved(offsets[key]) for facet in found] for key, found in facets.items()}


def _is_of_spine(book: Book, key: str) -> bool:
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
