"""Whether two drawings hold the same paths; what a file is proved with after it was written."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from ..drawing import Drawing, Item, Layer
from ..paths import Path, Vertex, bounds_of
from .deviation import SAME
from .matching import Matching, Piece, matched
from .misreadings import Misreading, misreading_of


@dataclass(frozen=True, slots=True)
class LayerComparison:
    """One layer of both drawings; deviation in mm, of the paths that were found in both."""

    layer: Layer
    written: int
    read: int
    largest_deviation: float
    missing: tuple[Item, ...] = ()  #: written, but not read
    extra: tuple[Item, ...] = ()  #: read, but not written
    differently_closed: tuple[Item, ...] = ()  #: open in one and closed in the other, as written

    @property
    def has_same_paths(self) -> bool:
        """Whether each path was found in both, open or closed alike."""
        return not (self.missing or self.extra or self.differently_closed)


@dataclass(frozen=True, slots=True)
class Comparison:
    """What differs between a drawing that was written and one that was read; lengths in mm."""

    rows: tuple[LayerComparison, ...]
    page_deviation: float  #: the larger difference of the pages' widths and heights
    misreading: Misreading | None = None  #: the second is the first, but for its unit
    moved: tuple[float, float] | None = None  #: the second is the first, moved by this much

    @property
    def largest_deviation(self) -> float:
        """The largest deviation of any path that was found in both."""
        return max((row.largest_deviation for row in self.rows), default=0.0)

    def has_equal_paths(self, tolerance: float) -> bool:
        """Whether both hold the same paths, no farther apart than *tolerance* mm."""
        return self.largest_deviation <= tolerance and all(row.has_same_paths for row in self.rows)

    def is_equal(self, tolerance: float) -> bool:
        """Whether paths and page are the same within *tolerance* mm."""
        return self.page_deviation <= tolerance and self.has_equal_paths(tolerance)


def compare(written: Drawing, read: Drawing) -> Comparison:
    """Return what differs between two drawings, layer by layer; captions do not count.

    Paths are matched in order within each part first, then with the nearest of
    the same layer, whatever its start, direction or number of vertices.

    >>> from dielines.drawing import Group
    >>> from dielines.paths import rectangle
    >>> def sheet(width):
    ...     item = Item(Layer.CUT, rectangle(0, 0, width, 50))
    ...     return Drawing(200, 100, (Group("page", "", (item,)),))
    >>> result = compare(sheet(123.825), sheet(123.75))
    >>> round(result.largest_deviation, 6), result.is_equal(0.001), result.is_equal(0.1)
    (0.075, False, True)
    """
    rows = _rows(written, read)
    page = max(abs(written.width - read.width), abs(written.height - read.height))
    result = Comparison(rows, page)
    return result if result.has_equal_paths(SAME) else _explained(result, written, read)


def without_layers(drawing: Drawing) -> Drawing:
    """Return *drawing* with every path on MARK, to compare files whose layers are named otherwise."""
    return _redrawn(drawing, lambda item: replace(item, layer=Layer.MARK))


def scaled(drawing: Drawing, factor: float, dx: float = 0.0, dy: float = 0.0) -> Drawing:
    """Return *drawing* with its paths *factor* times as large, then moved; the page stays."""

    def placed(path: Path) -> Path:
        return replace(
            path,
            vertices=tuple(
                Vertex(float(v.x) * factor + dx, float(v.y) * factor + dy, v.bulge)
                for v in path.vertices
            ),
        )

    return _redrawn(drawing, lambda item: replace(item, path=placed(item.path)))


def _redrawn(drawing: Drawing, change: Callable[[Item], Item]) -> Drawing:
    groups = (
        replace(group, items=tuple(change(item) for item in group.items))
        for group in drawing.groups
    )
    return replace(drawing, groups=tuple(groups))


def _rows(written: Drawing, read: Drawing) -> tuple[LayerComparison, ...]:
    ours, theirs = _by_layer(written), _by_layer(read)
    return tuple(
        _row(layer, ours.get(layer, []), theirs.get(layer, []))
        for layer in Layer
        if layer in ours or layer in theirs
    )


def _by_layer(drawing: Drawing) -> dict[Layer, list[Piece]]:
    layers: dict[Layer, list[Piece]] = {}
    for group in drawing.groups:
        for item in group.items:
            layers.setdefault(item.layer, []).append(Piece(item, group.key))
    return layers


def _row(layer: Layer, written: list[Piece], read: list[Piece]) -> LayerComparison:
    found: Matching = matched(written, read)
    return LayerComparison(
        layer,
        len(written),
        len(read),
        max((apart for _, _, apart in found.pairs), default=0.0),
        tuple(piece.item for piece in found.missing),
        tuple(piece.item for piece in found.extra),
        tuple(a.item for a, b, _ in found.pairs if a.item.path.closed != b.item.path.closed),
    )


def _explained(result: Comparison, written: Drawing, read: Drawing) -> Comparison:
    """Return *result* with why little was found in both: another unit, or another place.

    The second drawing is laid onto the first, lower left on lower left; when most
    paths are found then, and closer than before, that is why.
    """
    ours, theirs = (bounds_of(item.path for item in d.items()) for d in (written, read))
    size, other = max(ours.width, ours.height), max(theirs.width, theirs.height)
    if not (size > 0 and other > 0):
        return result
    misreading = misreading_of(float(other / size))
    factor = 1 / float(misreading.factor) if misreading else 1.0
    dx, dy = (float(a - b * factor) for a, b in zip(ours[:2], theirs[:2], strict=True))
    laid = _rows(written, scaled(read, factor, dx, dy))
    if _missing(laid) * 2 > len(written.items()) or not _apart(laid) < _apart(result.rows):
        return result
    if misreading:
        return replace(result, misreading=misreading)
    return replace(result, moved=(-dx, -dy))


def _apart(rows: tuple[LayerComparison, ...]) -> tuple[int, float]:
    """Return how many paths are missing and, to a hundredth of a mm, how far the others are off."""
    deviation = max((row.largest_deviation for row in rows), default=0.0)
    return _missing(rows), round(deviation, 2)


def _missing(rows: tuple[LayerComparison, ...]) -> int:
    return sum(len(row.missing) for row in rows)
