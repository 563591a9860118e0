"""``hole``: a round hole, its middle measured inward from a side or corner."""

from ...documents import Refusal, beneath
from ...fields import Field, Kind
from ...paths import circle
from ..cutting import cut_hole, cut_through
from ..drafts import Draft
from ..editing import THROUGH, Edit, corners_named, point_inward
from ..shapes import CORNERS, SIDES

VERB = "hole"
FIELDS = (
    Field("from", Kind.TEXT_OR_LIST),
    Field("at", Kind.LIST, True),
    Field("diameter", Kind.SIZE, True),
    THROUGH,
)


def apply(draft: Draft, edit: Edit) -> Draft:
    """Return *draft* with a hole punched from each named corner or side."""
    radius = edit.size("diameter") / 2
    if not radius:
        return draft
    for start in origins(edit):
        shape = draft.shape(edit.panel)
        centre = point_inward(edit, shape, start, "at")
        draft = cut_through(draft, edit, circle(centre, radius), cut_hole)
    return draft


def origins(edit: Edit) -> list[str]:
    """Return the corners and sides from which a place is measured; top left unless told."""
    raw = edit.fields.get("from", "top left")
    entries = raw if isinstance(raw, list) else [raw]
    found = []
    with beneath("from"):
        for entry in entries:
            if entry in SIDES or entry in CORNERS:
                found.append(entry)
            elif entry in ("each corner", "all"):
                found.extend(corners_named(entry))
            else:
                raise Refusal("unknown-word", f"{entry!r} is no side, no corner, nor 'each corner'")
    return found
