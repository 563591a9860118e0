"""``shape``: an edge set back at both ends, slanted or bent to an arc."""

from dataclasses import replace
from fractions import Fraction

from ...documents import Refusal, beneath
from ...fields import Field, Kind
from ...paths import Number, Point
from ..drafts import Draft
from ..editing import Edit, side_named
from ..points import arc_bulge
from ..shapes import INWARD, Shape, edge_ends, edge_indices

VERB = "shape"
FIELDS = (Field("edge", Kind.TEXT, True), Field("inset", Kind.LIST, True))


def apply(draft: Draft, edit: Edit) -> Draft:
    """Return *draft* with an edge moved in: [both ends], or [end, middle, end] for an arc."""
    insets = edit.sizes("inset", (2, 3))
    with beneath("edge"):
        side = side_named(edit.text("edge"))
    shape = draft.shape(edit.panel)
    if len(edge_indices(shape, side)) != 1:
        raise Refusal("cut-edge", f"the {side} edge of {shape.name!r} is already cut into")
    room = shape.box.width if INWARD[side][0] else shape.box.height
    if max(insets) >= room:
        with beneath("inset"):
            raise Refusal(
                "too-deep-inset", f"an inset of {edit.shown_with_unit(max(insets))} leaves no panel"
            )
    return draft.with_shape(_bent(_set_in(shape, side, insets), side, insets))


def _set_in(shape: Shape, side: str, insets: list[Fraction]) -> Shape:
    """Return *shape* with both ends of the edge moved in along the neighbouring edges."""
    start, end = edge_ends(shape, side)
    ring = list(shape.ring)
    count = len(ring)
    for index, inset in ((start, insets[0]), (end, insets[-1])):
        is_later = side == ring[index].side
        neighbour = ring[index - 1] if is_later else ring[(index + 1) % count]
        place = _at_depth(ring[index].point, neighbour.point, side, inset, shape.name)
        ring[index] = replace(ring[index], x=place.x, y=place.y)
    return replace(shape, ring=tuple(ring))


def _at_depth(here: Point, neighbour: Point, side: str, inset: Number, panel: str) -> Point:
    """Return the point *inset* deep on the way from a corner to its neighbour."""
    ux, uy = INWARD[side]
    depth = (neighbour.x - here.x) * ux + (neighbour.y - here.y) * uy
    if inset > depth:
        raise Refusal("too-deep-inset", f"the edge beside it of {panel!r} is too short")
    share = inset / depth if depth else Fraction(0)
    return Point(here.x + (neighbour.x - here.x) * share, here.y + (neighbour.y - here.y) * share)


def _bent(shape: Shape, side: str, insets: list[Fraction]) -> Shape:
    """Return *shape* with its edge bent through the middle of three insets."""
    if len(insets) == 2:
        return shape
    index = edge_indices(shape, side)[0]
    begin, end = shape.ring[index].point, shape.ring[(index + 1) % len(shape.ring)].point
    ux, uy = INWARD[side]
    left, bottom, right, top = shape.box
    middle_x, middle_y = (begin.x + end.x) / 2, (begin.y + end.y) / 2
    if ux:
        middle = Point((left if ux > 0 else right) + ux * insets[1], middle_y)
    else:
        middle = Point(middle_x, (bottom if uy > 0 else top) + uy * insets[1])
    with beneath("inset"):
        bulge = arc_bulge(begin, middle, end)
    ring = list(shape.ring)
    ring[index] = replace(ring[index], bulge=bulge)
    return replace(shape, ring=tuple(ring))
