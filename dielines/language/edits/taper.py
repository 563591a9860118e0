"""``taper``: a panel runs from its fold to an inset at the far edge."""

from ...documents import Refusal
from ...fields import Field, Kind
from ...paths import Number, Point
from ..drafts import Draft, fold_sides
from ..editing import Edit, side_named
from ..shapes import OPPOSITE, Shape, edge_ends, moved_corners

VERB = "taper"
FIELDS = (Field("inset", Kind.SIZE_OR_LIST, True), Field("from", Kind.TEXT))


def apply(draft: Draft, edit: Edit) -> Draft:
    """Return *draft* with the far edge of the panel drawn in at both ends."""
    insets = edit.sizes("inset", (1, 2))
    first, last = insets[0], insets[-1]
    shape = draft.shape(edit.panel)
    far = OPPOSITE[fold_side(draft, edit)]
    return draft.with_shape(drawn_in(shape, far, first, last, edit))


def fold_side(draft: Draft, edit: Edit) -> str:
    """Return the side from which a panel tapers; raises Refusal when that is not plain."""
    if edit.has("from"):
        return side_named(edit.text("from"))
    sides = fold_sides(draft, edit.panel)
    if len(sides) != 1:
        told = f"on {len(sides)} sides ({', '.join(sides)})" if sides else "on no side"
        raise Refusal(
            "which-side", f"{edit.panel!r} is folded {told}", 'Say from which: from = "left".'
        )
    return sides[0]


def drawn_in(shape: Shape, far: str, first: Number, last: Number, edit: Edit) -> Shape:
    """Return *shape* with the ends of its *far* edge moved along it, top or left first."""
    start, end = edge_ends(shape, far)
    a, b = shape.ring[start].point, shape.ring[end].point
    level = far in ("top", "bottom")
    length = b.x - a.x if level else a.y - b.y
    if first + last > length:
        told = f"{edit.shown(first)} + {edit.shown(last)} on an edge of {edit.shown(length)}"
        raise Refusal("ends-overlap", f"the two ends overlap: {told}")
    places = (
        {start: Point(a.x + first, a.y), end: Point(b.x - last, b.y)}
        if level
        else {start: Point(a.x, a.y - first), end: Point(b.x, b.y + last)}
    )
    return moved_corners(shape, places)
