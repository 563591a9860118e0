"""``holes``: a row of holes along a fold, or along a margin of a panel."""

from fractions import Fraction

from ...documents import Refusal, beneath
from ...fields import Field, Kind
from ...paths import Number, Path, Point, Vertex, circle
from ..cutting import along, cut_hole, cut_notch, cut_through, spend_on_cut
from ..drafts import Draft
from ..editing import THROUGH, Edit, side_named
from ..lines import StraightLine, line_named
from ..shapes import INWARD, Shape

VERB = "holes"
FIELDS = (
    Field("edge", Kind.TEXT),
    Field("inset", Kind.SIZE),
    Field("diameter", Kind.SIZE, True),
    Field("start", Kind.SIZE),
    Field("count", Kind.SIZE),
    Field("spacing", Kind.SIZE),
    Field("at", Kind.LIST),
    THROUGH,
)


def apply(draft: Draft, edit: Edit) -> Draft:
    """Return *draft* with the row punched, counted from the top or the left."""
    radius = edit.size("diameter") / 2
    if not radius:
        return draft
    if edit.has("edge"):
        return _along_margin(draft, edit, radius)
    return _along_fold(draft, edit, line_named(draft, edit.flat, edit.panel), radius)


def _along_margin(draft: Draft, edit: Edit, radius: Number) -> Draft:
    with beneath("edge"):
        side = side_named(edit.text("edge"))
    shape = draft.shape(edit.panel)
    start, end, length = _margin(shape, side, edit.size("inset"))
    for place in places(edit, length):
        centre = along(start, end, place, length)
        draft = cut_through(draft, edit, circle(centre, radius), cut_hole)
    return draft


def _margin(shape: Shape, side: str, inset: Number) -> tuple[Point, Point, Number]:
    left, bottom, right, top = shape.box
    ux, uy = INWARD[side]
    if ux:
        x = (left if ux > 0 else right) + ux * inset
        return Point(x, top), Point(x, bottom), shape.box.height
    y = (bottom if uy > 0 else top) + uy * inset
    return Point(left, y), Point(right, y), shape.box.width


def _along_fold(draft: Draft, edit: Edit, line: StraightLine, radius: Number) -> Draft:
    """Return *draft* with half a hole cut from the panel on each side of the fold."""
    for place in places(edit, line.length):
        centre = along(line.start, line.end, place, line.length)
        spend_on_cut(edit, draft.shape(line.first))
        draft = cut_notch(draft, line.first, half_hole(line, centre, radius))
        draft = cut_notch(draft, line.second, half_hole(line, centre, -radius))
    return draft


def half_hole(line: StraightLine, centre: Point, radius: Number) -> Path:
    """Return the half circle that the first panel loses, or with -radius the second one."""
    ux, uy = line.towards_first
    # a clockwise half circle lies at the left of the way from its start to its end
    begin = Point(centre.x - uy * radius, centre.y + ux * radius)
    end = Point(centre.x + uy * radius, centre.y - ux * radius)
    return Path((Vertex(*begin, Fraction(-1)), Vertex(*end)), closed=False)


def places(edit: Edit, length: Number) -> list[Number]:
    """Return the distances of the holes from the start of a row *length* long."""
    if edit.has("at"):
        return [edit.position("at", length, index) for index in range(len(edit.fields["at"]))]
    count = edit.count("count")
    if edit.has("spacing"):
        spacing = edit.size("spacing")
        first: Number = edit.size("start", (Fraction(length) - spacing * (count - 1)) / 2)
        step: Number = spacing
    else:
        first = edit.size("start")
        step = (length - 2 * first) / (count - 1) if count > 1 else Fraction(0)
    if first + step * (count - 1) > length:
        raise Refusal(
            "off-edge", f"the row is longer than the line, {edit.shown_with_unit(length)}"
        )
    return [first + step * i for i in range(count)]
