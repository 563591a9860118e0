"""``round``: a corner rounded by a true arc."""

import math

from ...documents import Refusal, beneath
from ...fields import Field, Kind
from ...paths import Number, Point
from ..drafts import Draft
from ..editing import Edit, corners_named
from ..rings import Corner
from ..shapes import Shape, corner_index, replaced_corner, with_corners
from .clip import toward

VERB = "round"
FIELDS = (Field("corner", Kind.TEXT_OR_LIST), Field("radius", Kind.SIZE, True))


def apply(draft: Draft, edit: Edit) -> Draft:
    """Return *draft* with the named corners (all unless told) rounded."""
    radius = edit.size("radius")
    shape = draft.shape(edit.panel)
    with beneath("corner"):
        corners = corners_named(edit.fields.get("corner", "all"))
        if radius:
            shape = with_corners(shape, corners, lambda s, corner: rounded(s, corner, radius))
    return draft.with_shape(shape)


def rounded(shape: Shape, name: str, radius: Number) -> Shape:
    """Return *shape* with one corner rounded.

    Between edges that turn by the angle t the arc begins radius * tan(t / 2)
    before the corner and sweeps t, so its bulge is tan(t / 4).
    """
    index = corner_index(shape, name)
    ring = shape.ring
    here, before, after = ring[index], ring[index - 1], ring[(index + 1) % len(ring)]
    if before.bulge or here.bulge:
        raise Refusal("curved-edge", f"the {name} corner of {shape.name!r} lies on a curve")
    turn = _turn(before.point, here.point, after.point)
    reach = radius if abs(turn - math.pi / 2) < 1e-12 else radius * math.tan(turn / 2)
    start = toward(here.point, before.point, reach, shape.name)
    end = toward(here.point, after.point, reach, shape.name)
    arc = Corner(*start, math.tan(turn / 4))
    return replaced_corner(shape, index, [arc, Corner(*end, here.bulge, here.side)])


def _turn(a: Point, b: Point, c: Point) -> float:
    """Return by how much the way from *a* over *b* to *c* turns to the left, radians."""
    first = math.atan2(b.y - a.y, b.x - a.x)
    second = math.atan2(c.y - b.y, c.x - b.x)
    return (second - first) % (2 * math.pi)
