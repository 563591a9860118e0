"""``taper``: a panel runs from its fold to an inset at the far edge."""

from ...documents import Refusal, beneath
from ...fields import Field, Kind
from ...paths import Number, distance
from ..cutting import along
from ..drafts import Draft, fold_sides
from ..editing import Edit, side_named
from ..shapes import OPPOSITE, Shape, edge_ends, edge_indices, moved_corners

VERB = "taper"
FIELDS = (Field("inset", Kind.SIZE_OR_LIST, True), Field("from", Kind.TEXT))


def apply(draft: Draft, edit: Edit) -> Draft:
    """Return *draft* with the far edge of the panel drawn in at both ends."""
    insets = edit.sizes("inset", (1, 2))
    first, last = insets[0], insets[-1]
    shape = draft.shape(edit.panel)
    far = OPPOSITE[fold_side(draft, edit)]
    with beneath("inset"):
        return draft.with_shape(drawn_in(shape, far, first, last, edit))


def fold_side(draft: Draft, edit: Edit) -> str:
    """Return the side from which a panel tapers; raises Refusal when that is not plain."""
    if edit.has("from"):
        with beneath("from"):
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
    if any(shape.ring[index].bulge for index in edge_indices(shape, far)):
        raise Refusal("curved-edge", f"the {far} edge of {shape.name!r} is an arc")
    start, end = edge_ends(shape, far)
    a, b = shape.ring[start].point, shape.ring[end].point
    length = distance(a, b)
    if first + last > length:
        told = (
            f"{edit.shown(first)} + {edit.shown(last)} on an edge of {edit.shown_with_unit(length)}"
        )
        raise Refusal("ends-overlap", f"the two ends overlap: {told}")
    places = {start: along(a, b, first, length), end: along(b, a, last, length)}
    return moved_corners(shape, places)
