"""``cut``: a slit anywhere on a panel."""

from ...part import Purpose
from ..drafts import Draft
from ..editing import Edit
from .score import LINE_FIELDS, drawn

VERB = "cut"
FIELDS = LINE_FIELDS


def apply(draft: Draft, edit: Edit) -> Draft:
    """Return *draft* with the line on its panel and on the layers it goes through."""
    return drawn(draft, edit, Purpose.CUT, 0)
