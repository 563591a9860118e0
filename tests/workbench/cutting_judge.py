"""An independent judge of the order of cutting: it replays a sheet path by path.

It shares nothing with the code that it judges: containment is asked of another
library, and distances are summed anew.
"""

from __future__ import annotations

import itertools
import math
from collections import Counter
from collections.abc import Iterator, Sequence

from shapely import Point, Polygon

from dielines.drawing import Drawing, Item, Layer
from dielines.paths import Path, flattened

#: What comes first, layer by layer; scores of either kind and perforations may mix.
RANK = {
    Layer.LABEL: 0, Layer.MARK: 0, Layer.TAPE_FACE: 0, Layer.TAPE_REVERSE: 0,
    Layer.SCORE_MOUNTAIN: 1, Layer.SCORE_VALLEY: 1, Layer.PERFORATE: 2, Layer.CUT: 3,
}  # fmt: skip


def wrong_in_order(ordered: Drawing, sizes: Sequence[float]) -> list[str]:
    """Return what is wrong with the order; *sizes* are areas that part small from large, mm2."""
    items = ordered.items()
    ranks = [RANK[item.layer] for item in items]
    wrong = [f"layers: {a} before {b}" for a, b in itertools.pairwise(ranks) if a > b]
    return [*wrong, *_wrong_in_cuts([i for i in items if i.layer is Layer.CUT], sizes)]


def _wrong_in_cuts(cuts: Sequence[Item], sizes: Sequence[float]) -> Iterator[str]:
    shapes = [Polygon(flattened(i.path)) if i.path.closed else None for i in cuts]
    depth = [0] * len(cuts)
    for late, inner in enumerate(cuts):
        for early, outer in enumerate(shapes):
            if outer is None or not _lies_in(inner.path, shapes[late], outer):
                continue
            depth[late] += 1
            if early < late:
                yield f"{cuts[early].name} is cut before {inner.name}, which lies in it"
    classes = [
        sum(shape.area >= size for size in sizes)
        for shape, deep in zip(shapes, depth, strict=True)
        if shape is not None and deep % 2 == 0
    ]
    if classes != sorted(classes):
        yield f"large before small: {classes}"


def _lies_in(path: Path, shape: Polygon | None, outer: Polygon) -> bool:
    """Return whether an open path, or the closed *shape*, lies in *outer* and is not the same."""
    if shape is not None:
        inner = shape.representative_point()
        return shape.area < outer.area - 1e-9 and outer.contains(inner)
    points = flattened(path)
    (x0, y0), (x1, y1) = points[:2]
    return bool(outer.contains(Point((x0 + x1) / 2, (y0 + y1) / 2)))


def shape_of(path: Path) -> tuple[object, ...]:
    """Return what is cut along *path*, whatever its start and direction: each segment once."""
    found = Counter(
        min((*a, *b, round(bulge, 9)), (*b, *a, round(-bulge, 9)))
        for start, end, bulge in path.segments()
        for a, b in [(_rounded(start), _rounded(end))]
    )
    return tuple(sorted(found.items()))


def lost_or_added(drawing: Drawing, ordered: Drawing) -> Counter[object]:
    """Return the paths that are in one of both drawings only."""
    kinds = [
        Counter((i.layer, i.path.closed, shape_of(i.path)) for i in d.items())
        for d in (drawing, ordered)
    ]
    return (kinds[0] - kinds[1]) + (kinds[1] - kinds[0])


def lifted_travel(drawing: Drawing) -> float:
    """Return the way between paths, mm."""
    ends = [_ends(item.path) for item in drawing.items()]
    return sum(math.dist(a[1], b[0]) for a, b in itertools.pairwise(ends))


def _ends(path: Path) -> tuple[tuple[float, float], tuple[float, float]]:
    first, last = path.vertices[0], path.vertices[0 if path.closed else -1]
    return (float(first.x), float(first.y)), (float(last.x), float(last.y))


def _rounded(point: tuple[object, object]) -> tuple[float, float]:
    x, y = point
    return round(float(x), 6), round(float(y), 6)  # type: ignore[arg-type]
