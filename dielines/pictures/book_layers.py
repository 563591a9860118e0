"""How far the layers of a whole book are drawn apart."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import TYPE_CHECKING, Any

from ..book.book import Book
from ..folding.folded_book import FoldedBook
from ..models.book_places import LYING, PanelKey, true_shifts
from ..models.patches import patches_of
from .spacing import spread

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Array = NDArray[Any]

REACH = 12.0  #: mm; layers farther apart than this need no gap between them
OVERLAP = 0.05  #: mm that two panels must share in both directions to lie over each other
SLAB = 1.0  #: mm; what is at least as thick is drawn as a body


def thicknesses(book: Book) -> dict[str, float]:
    """Return the thickness of each part that is drawn as a body, by its key."""
    calipers = {entry.key: float(entry.stock.caliper.mm) for entry in book.parts}
    return {key: caliper for key, caliper in calipers.items() if caliper >= SLAB}


def picture_shifts(folded: FoldedBook, gap: float) -> dict[PanelKey, float]:
    """Return the shift of each panel along its normal, layers at least *gap* mm apart."""
    import numpy as np

    true = true_shifts(folded)
    lying: list[PanelKey] = []
    heights: dict[PanelKey, float] = {}
    ups: dict[PanelKey, int] = {}
    boxes: list[Array] = []
    bodies = thicknesses(folded.book)
    for key, poses in folded.assembly.places.items():
        patches = patches_of(folded.book.part(key).part)
        for panel, pose in poses.items():
            up = float(pose.normal[2])
            if abs(up) <= 1 - LYING:
                continue
            name = (key, panel)
            ups[name] = 1 if up > 0 else -1
            heights[name] = float(pose.translation[2]) + true.get(name, 0.0) * ups[name]
            corners = np.array(
                [[float(v) for v in pose.at(c)[:2]] for c in patches.panels[panel].rings[0]]
            )
            boxes.append(np.concatenate([corners.min(axis=0), corners.max(axis=0)]))
            lying.append(name)
    above = _above(lying, heights, np.array(boxes).reshape(-1, 4), bodies, gap)
    moved = spread(heights, above)
    return {name: true.get(name, 0.0) + (moved[name] - heights[name]) * ups[name] for name in lying}


def _above(
    names: list[PanelKey],
    heights: Mapping[PanelKey, float],
    boxes: Array,
    bodies: Mapping[str, float],
    gap: float,
) -> Iterator[tuple[PanelKey, PanelKey, float]]:
    """Yield (lower, upper, gap) of all panels that lie over each other, near each other."""
    import numpy as np

    levels = np.array([heights[name] for name in names])
    halves = np.array([bodies.get(key, 0.0) / 2 for key, _ in names])
    order = np.argsort(levels, kind="stable")
    for place, i in enumerate(order):
        later = order[place + 1 :]
        later = later[levels[later] - levels[i] <= REACH]
        low = np.maximum(boxes[later, :2], boxes[i, :2])
        high = np.minimum(boxes[later, 2:], boxes[i, 2:])
        for j in later[(high - low > OVERLAP).all(axis=1)]:
            if levels[j] - levels[i] > 1e-6:
                yield names[i], names[j], gap + float(halves[i] + halves[j])
