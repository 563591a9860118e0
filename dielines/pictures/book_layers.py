"""How far the layers of a whole book are drawn apart."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from ..book.book import Book
from ..folding.folded_book import FoldedBook
from ..models.book_places import LYING, PanelKey, bent_name, lying_panels, true_shifts
from ..models.facets import placed
from ..models.patches import SAGITTA, Flat, patches_of
from ..paths import flattened
from ..rigid import Pose
from .spacing import spread

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Array = NDArray[Any]

REACH = 12.0  #: mm; layers farther apart than this need no gap between them
OVERLAP = 0.05  #: mm that two panels must share in both directions to lie over each other
SAME_HEIGHT = 1e-6  #: mm
SLAB = 1.0  #: mm; what is at least as thick is drawn as a body


def thicknesses(book: Book) -> dict[str, float]:
    """Return the thickness of each part that is drawn as a body, by its key."""
    calipers = {entry.key: float(entry.stock.caliper.mm) for entry in book.parts}
    return {key: caliper for key, caliper in calipers.items() if caliper >= SLAB}


@dataclass(frozen=True)
class _Layer:
    """A panel that lies in the closed book, or a piece of one that is bent."""

    name: PanelKey
    height: float
    up: int  #: 1 where its face looks to the front cover, else -1
    box: Array  #: left, bottom, right, top


def picture_shifts(folded: FoldedBook, gap: float) -> dict[PanelKey, float]:
    """Return the shift of each panel along its normal, layers at least *gap* mm apart."""
    true = true_shifts(folded)
    layers = list(_layers(folded, true))
    heights = {layer.name: layer.height for layer in layers}
    moved = spread(heights, _above(layers, thicknesses(folded.book), gap))
    return {
        layer.name: true.get(layer.name, 0.0) + (moved[layer.name] - layer.height) * layer.up
        for layer in layers
    }


def _layers(folded: FoldedBook, true: Mapping[PanelKey, float]) -> Iterator[_Layer]:
    assembly = folded.assembly
    patches = {key: patches_of(folded.book.part(key).part) for key in assembly.places}
    for name, pose in lying_panels(assembly):
        corners = patches[name[0]].panels[name[1]].rings[0]
        yield _layer(name, pose, corners, true.get(name, 0.0))
    for key, pieces in assembly.bent.items():
        for number, piece in enumerate(pieces):
            if abs(float(piece.pose.normal[2])) > 1 - LYING:
                name = (key, bent_name(piece.panel, number))
                yield _layer(name, piece.pose, flattened(piece.outline, SAGITTA), 0.0)


def _layer(name: PanelKey, pose: Pose, corners: Sequence[Flat], shift: float) -> _Layer:
    import numpy as np

    place = placed(pose)
    up = 1 if place.normal[2] > 0 else -1
    flat = place.at(corners)[:, :2]
    box = np.concatenate([flat.min(axis=0), flat.max(axis=0)])
    return _Layer(name, float(place.translation[2]) + shift * up, up, box)


def _above(
    layers: Sequence[_Layer], bodies: Mapping[str, float], gap: float
) -> Iterator[tuple[PanelKey, PanelKey, float]]:
    """Yield (lower, upper, gap) of all layers that lie over each other, near each other."""
    import numpy as np

    boxes = np.array([layer.box for layer in layers]).reshape(-1, 4)
    levels = np.array([layer.height for layer in layers])
    halves = np.array([bodies.get(layer.name[0], 0.0) / 2 for layer in layers])
    order = np.argsort(levels, kind="stable")
    for place, i in enumerate(order):
        later = order[place + 1 :]
        rise = levels[later] - levels[i]
        later = later[(rise <= REACH) & (rise > SAME_HEIGHT)]
        low = np.maximum(boxes[later, :2], boxes[i, :2])
        high = np.minimum(boxes[later, 2:], boxes[i, 2:])
        for j in later[(high - low > OVERLAP).all(axis=1)]:
            yield layers[i].name, layers[j].name, gap + float(halves[i] + halves[j])
