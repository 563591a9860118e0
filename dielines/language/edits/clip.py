"""``clip``: a corner cut off straight."""

from fractions import Fraction

from ...documents import Refusal, beneath
from ...fields import Field, Kind
from ...paths import Number, Point, distance
from ..drafts import Draft
from ..editing import Edit, corners_named
from ..rings import Corner
from ..shapes import Shape, corner_index, replaced_corner, with_corners

VERB = "clip"
FIELDS = (Field("corner", Kind.TEXT_OR_LIST, True), Field("by", Kind.SIZE_OR_LIST, True))


def apply(draft: Draft, edit: Edit) -> Draft:
    """Return *draft* with the named corners clipped by [along x, along y]."""
    by = edit.sizes("by", (1, 2))
    shape = draft.shape(edit.panel)
    with beneath("corner"):
        corners = corners_named(edit.fields["corner"])
        shape = with_corners(shape, corners, lambda s, corner: clipped(s, corner, by[0], by[-1]))
    return draft.with_shape(shape)


def clipped(shape: Shape, name: str, by_x: Fraction, by_y: Fraction) -> Shape:
    """Return *shape* with one corner clipped; raises Refusal when an edge is too short."""
    index = corner_index(shape, name)
    ring = shape.ring
    here, before, after = ring[index], ring[index - 1], ring[(index + 1) % len(ring)]
    first = by_y if before.side in ("left", "right") else by_x
    second = by_y if here.side in ("left", "right") else by_x
    start = toward(here.point, before.point, first, shape.name)
    end = toward(here.point, after.point, second, shape.name)
    return replaced_corner(shape, index, [Corner(*start), Corner(*end, here.bulge, here.side)])


def toward(a: Point, b: Point, reach: Number, panel: str) -> Point:
    """Return the point on the way from *a* to *b*; raises Refusal when b is nearer."""
    dx, dy = b.x - a.x, b.y - a.y
    length = distance(a, b)
    if reach > length:
        raise Refusal("edge-too-short", f"an edge of {panel!r} is too short for this corner")
    # along a level or upright edge the other coordinate stays exact
    x = a.x + dx * reach / length if dx else a.x
    return Point(x, a.y + dy * reach / length if dy else a.y)
