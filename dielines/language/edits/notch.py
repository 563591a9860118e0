"""``notch``: a half round, vee or square cut into an edge, through all layers if told."""

from fractions import Fraction

from ...documents import Refusal, beneath
from ...fields import Field, Kind
from ...paths import Number, Path, Point, Vertex, distance
from ..cutting import along, cut_notch, cut_through
from ..drafts import Draft
from ..editing import THROUGH, Edit, side_named
from ..shapes import Shape, edge_indices

VERB = "notch"
FIELDS = (
    Field("edge", Kind.TEXT, True),
    Field("style", Kind.TEXT, words=("round", "vee", "square")),
    Field("diameter", Kind.SIZE),
    Field("width", Kind.SIZE),
    Field("depth", Kind.SIZE),
    Field("at", Kind.SIZE),
    THROUGH,
)


def apply(draft: Draft, edit: Edit) -> Draft:
    """Return *draft* with the notch cut, its middle at ``at`` from the top or left."""
    with beneath("edge"):
        side = side_named(edit.text("edge"))
    shape = draft.shape(edit.panel)
    width = edit.size("diameter") if edit.text("style", "round") == "round" else edit.size("width")
    if not width:
        return draft
    start, end, length = _edge(shape, side)
    middle = edit.position("at", length)
    if middle - width / 2 < 0 or middle + width / 2 > length:
        told = f"{edit.shown(width)} wide on an edge of {edit.shown_with_unit(length)}"
        raise Refusal("off-edge", f"the notch runs past the edge: {told}")
    a = along(start, end, middle - width / 2, length)
    b = along(start, end, middle + width / 2, length)
    if side in ("top", "right"):
        a, b = b, a
    return cut_through(draft, edit, _notch_path(edit, a, b, width), cut_notch)


def _edge(shape: Shape, side: str) -> tuple[Point, Point, Number]:
    """Return both ends of an edge, top or left first, and its length."""
    pieces = edge_indices(shape, side)
    start = shape.ring[pieces[0]].point
    end = shape.ring[(pieces[-1] + 1) % len(shape.ring)].point
    if side in ("top", "right"):  # counter-clockwise, these run to the left, and up
        start, end = end, start
    if any(shape.ring[index].bulge for index in pieces):
        raise Refusal("curved-edge", f"the {side} edge of {shape.name!r} is an arc")
    return start, end, distance(start, end)


def _notch_path(edit: Edit, a: Point, b: Point, width: Number) -> Path:
    """Return the cut from *a* to *b*, counter-clockwise along the edge, into the panel."""
    style = edit.text("style", "round")
    if style == "round":  # a half circle to the left of the way: clockwise
        return Path((Vertex(*a, Fraction(-1)), Vertex(*b)), closed=False)
    depth = edit.size("depth")
    inward = Point(-(b.y - a.y) * depth / width, (b.x - a.x) * depth / width)
    if style == "vee":
        tip = Vertex((a.x + b.x) / 2 + inward.x, (a.y + b.y) / 2 + inward.y)
        return Path((Vertex(*a), tip, Vertex(*b)), closed=False)
    corners = (Vertex(p.x + inward.x, p.y + inward.y) for p in (a, b))
    return Path((Vertex(*a), *corners, Vertex(*b)), closed=False)
