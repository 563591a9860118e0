"""How far the layers of a whole book are drawn apart."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from ..book.book import Book
from ..folding.folded_book import FoldedBook
from ..folding.hosts import hosts_of
from ..models.book_places import PanelKey, bent_name, lying_panels, true_shifts
from ..models.facets import placed
from ..models.patches import SAGITTA, Flat, patches_of
from ..paths import flattened
from .spacing import spread

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Array = NDArray[Any]

REACH = 12.0  #: mm; layers farther apart than this need no gap between them
OVERLAP = 0.05  #: mm that two panels must share in both directions to lie over each other
CLOSE = 0.02  #: how much of its distance from a board is left to what covers that
COVERING_ROLES = ("wrap", "lining", "edges")
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
    height: float  #: mm over the inside of the back board
    level: float  #: the same, but for what covers boards: nearer to them than any page
    up: int  #: 1 where its face looks to the front cover, else -1
    box: Array  #: left, bottom, right, top


def picture_shifts(folded: FoldedBook, gap: float) -> dict[PanelKey, float]:
    """Return the shift of each panel along its normal, layers at least *gap* mm apart."""
    true = true_shifts(folded)
    layers = list(_layers(folded, true))
    levels = {layer.name: layer.level for layer in layers}
    moved = spread(levels, _above(layers, thicknesses(folded.book), gap))
    return {
        layer.name: true[layer.name] + (moved[layer.name] - layer.height) * layer.up
        for layer in layers
    }


def _layers(folded: FoldedBook, true: Mapping[PanelKey, float]) -> Iterator[_Layer]:
    outlines = _outlines(folded)
    lying = list(lying_panels(folded.assembly))
    heights = {
        name: float(pose.translation[2]) + true[name] * (1 if pose.normal[2] > 0 else -1)
        for name, pose in lying
    }
    boards = [
        (height, float(folded.book.part(name[0]).stock.caliper.mm) / 2)
        for name, height in heights.items()
        if folded.book.part(name[0]).role == "boards"
    ]
    covering = _covering(folded)
    for name, pose in lying:
        flat = placed(pose).at(outlines[name])[:, :2]
        box = _box_of(flat)
        level = heights[name]
        if name[0] in covering:
            level = _close_to(level, boards)
        yield _Layer(name, heights[name], level, 1 if pose.normal[2] > 0 else -1, box)


def _outlines(folded: FoldedBook) -> dict[PanelKey, Sequence[Flat]]:
    """Return the corners of every panel, and of every piece of a bent one, on their flat parts."""
    found: dict[PanelKey, Sequence[Flat]] = {}
    for key in folded.assembly.places:
        for name, patch in patches_of(folded.book.part(key).part).panels.items():
            found[key, name] = patch.rings[0]
    for key, pieces in folded.assembly.bent.items():
        for number, piece in enumerate(pieces):
            found[key, bent_name(piece.panel, number)] = flattened(piece.outline, SAGITTA)
    return found


def _covering(folded: FoldedBook) -> set[str]:
    """Return the keys of what is glued round the boards, and of what backs it."""
    own = {entry.key for entry in folded.book.parts if entry.role in COVERING_ROLES}
    hosts = hosts_of(folded.book, folded.parts)
    return own | {key for key, host in hosts.items() if host.part in own}


def _close_to(height: float, boards: Sequence[tuple[float, float]]) -> float:
    """Return a height so near to the next board that nothing else comes between."""
    if not boards:
        return height
    board, half = min(boards, key=lambda one: abs(one[0] - height))
    away = abs(height - board) - half
    near = board + math.copysign(half + max(away, 0.0) * CLOSE, height - board)
    return near if away < REACH else height


def _box_of(flat: Array) -> Array:
    """Return left, bottom, right and top of places."""
    import numpy as np

    box: Array = np.concatenate([flat.min(axis=0), flat.max(axis=0)])
    return box


def _above(
    layers: Sequence[_Layer], bodies: Mapping[str, float], gap: float
) -> Iterator[tuple[PanelKey, PanelKey, float]]:
    """Yield (lower, upper, gap) of all layers that lie over each other, near each other."""
    import numpy as np

    boxes = np.array([layer.box for layer in layers]).reshape(-1, 4)
    levels = np.array([layer.level for layer in layers])
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
