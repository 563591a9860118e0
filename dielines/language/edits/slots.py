"""``slots``: every second length of a fold cut out, as in a slotted hinge."""

from ...fields import Field, Kind
from ...paths import Number, Path, Point, Vertex
from ..cutting import along, cut_notch, spend_on_cut
from ..drafts import Draft
from ..editing import Edit
from ..lines import StraightLine, line_named

VERB = "slots"
FIELDS = (
    Field("width", Kind.SIZE, True),
    Field("parts", Kind.SIZE, True),
    Field("which", Kind.TEXT, words=("even", "odd")),
)


def apply(draft: Draft, edit: Edit) -> Draft:
    """Return *draft* with slots of *width* across the fold, counted from the top or left."""
    line = line_named(draft, edit.flat, edit.panel)
    parts, half = edit.count("parts"), edit.size("width") / 2
    first = 1 if edit.text("which", "even") == "even" else 0
    for index in range(first, parts, 2):
        a = along(line.start, line.end, line.length * index / parts, line.length)
        b = along(line.start, line.end, line.length * (index + 1) / parts, line.length)
        spend_on_cut(edit, draft.shape(line.first))
        for panel, sign in ((line.first, 1), (line.second, -1)):
            draft = cut_notch(draft, panel, _half_slot(line, a, b, sign * half))
    return draft


def _half_slot(line: StraightLine, a: Point, b: Point, depth: Number) -> Path:
    """Return the half of a slot that lies *depth* towards the first panel."""
    ux, uy = line.towards_first
    far = [Vertex(p.x + ux * depth, p.y + uy * depth) for p in (a, b)]
    return Path((Vertex(*a), far[0], far[1], Vertex(*b)), closed=False)
