"""``score``: an extra score anywhere on a panel; it is drawn, not folded by the check."""

from ...documents import beneath
from ...fields import Field, Kind
from ...part import Purpose
from ..cutting import cut_through, stroke_cutter
from ..drafts import Draft
from ..editing import THROUGH, Edit, path_inward
from ..folding_keys import read_angle
from .hole import origins

VERB = "score"
LINE_FIELDS = (
    Field("from", Kind.TEXT_OR_LIST),
    Field("line", Kind.LIST, True),
    Field("name", Kind.TEXT),
    THROUGH,
)
FIELDS = (*LINE_FIELDS, Field("fold", Kind.SIZE, help="valley, mountain or an angle"))


def apply(draft: Draft, edit: Edit) -> Draft:
    """Return *draft* with the score on its panel and on the layers it goes through."""
    return drawn(draft, edit, Purpose.SCORE, edit.fields.get("fold", "valley"))


def drawn(draft: Draft, edit: Edit, purpose: Purpose, fold: object) -> Draft:
    """Return *draft* with a line of *purpose*, from each corner that is named."""
    with beneath("fold"):
        angle = read_angle(fold, edit.scope)
    cutter = stroke_cutter(purpose, angle, edit.name("name", ""))
    for start in origins(edit):
        path = path_inward(edit, draft.shape(edit.panel), start, "line")
        draft = cut_through(draft, edit, path, cutter)
    return draft
