"""``window``: an opening in a panel, told by its margins or by its size and place."""

import math
from fractions import Fraction

from ...documents import Refusal, beneath
from ...fields import Field, Kind
from ...paths import Bounds, Number, Path, Vertex
from ..cutting import cut_hole, cut_through
from ..drafts import Draft
from ..editing import THROUGH, Edit, point_inward
from ..shapes import Shape

VERB = "window"
FIELDS = (
    Field("margin", Kind.SIZE_OR_LIST),
    Field("size", Kind.LIST),
    Field("at", Kind.LIST),
    Field("radius", Kind.SIZE),
    THROUGH,
)


def apply(draft: Draft, edit: Edit) -> Draft:
    """Return *draft* with the window cut."""
    shape = draft.shape(edit.panel)
    if edit.has("margin") == edit.has("size"):
        raise Refusal("which-size", "a window has either a margin or a size")
    box = _inside_margins(edit, shape) if edit.has("margin") else _of_size(edit, shape)
    radius = edit.size("radius", Fraction(0))
    if 2 * radius > min(box.width, box.height):
        with beneath("radius"):
            raise Refusal(
                "too-large",
                f"a radius of {edit.shown_with_unit(radius)} is more than half the window",
            )
    return cut_through(draft, edit, rounded_rectangle(box, radius), cut_hole)


def _inside_margins(edit: Edit, shape: Shape) -> Bounds:
    """Return the window inside one margin, or [top, right, bottom, left]."""
    margins = edit.sizes("margin", (1, 4))
    top, right, bottom, left = margins if len(margins) == 4 else margins * 4
    box = shape.box
    window = Bounds(box.left + left, box.bottom + bottom, box.right - right, box.top - top)
    if window.width <= 0 or window.height <= 0:
        with beneath("margin"):
            raise Refusal("no-window", "the margins leave no window")
    return window


def _of_size(edit: Edit, shape: Shape) -> Bounds:
    """Return the window of a size [across, up] whose middle lies ``at`` from the top left."""
    width, height = edit.sizes("size", (2,))
    if not width or not height:
        with beneath("size"):
            raise Refusal("no-window", "a window of no size")
    centre = point_inward(edit, shape, "top left", "at")
    return Bounds(
        centre.x - width / 2, centre.y - height / 2, centre.x + width / 2, centre.y + height / 2
    )


def rounded_rectangle(box: Bounds, radius: Number) -> Path:
    """Return the rectangle with its corners rounded, counter-clockwise."""
    left, bottom, right, top = box
    if not radius:
        points = [(left, bottom), (right, bottom), (right, top), (left, top)]
        return Path(tuple(Vertex(x, y) for x, y in points))
    r, quarter = radius, math.tan(math.pi / 8)
    vertices = (
        Vertex(left + r, bottom),
        Vertex(right - r, bottom, quarter),
        Vertex(right, bottom + r),
        Vertex(right, top - r, quarter),
        Vertex(right - r, top),
        Vertex(left + r, top, quarter),
        Vertex(left, top - r),
        Vertex(left, bottom + r, quarter),
    )
    following = (*vertices[1:], vertices[0])  # half as wide as its radius, a side has no length
    pairs = zip(vertices, following, strict=True)
    return Path(tuple(v for v, after in pairs if v.bulge or v.point != after.point))
