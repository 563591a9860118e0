"""``label``: a text on a panel."""

from dataclasses import replace
from fractions import Fraction

from ...documents import Refusal, beneath
from ...fields import Field, Kind
from ...part import Lettering
from ...part_motion import LETTER_WIDTH
from ...paths import Point
from ..drafts import Draft
from ..editing import Edit, point_inward

VERB = "label"
FIELDS = (
    Field("text", Kind.TEXT, True),
    Field("height", Kind.SIZE),
    Field("at", Kind.LIST, help="its lower left corner, from the top left of the panel"),
)
MAX_LETTERS = 80
USUAL_HEIGHT = Fraction(3)  # mm, common practice: read at arm's length


def apply(draft: Draft, edit: Edit) -> Draft:
    """Return *draft* with the text, in the middle of the panel unless told."""
    height = edit.size("height", USUAL_HEIGHT)
    shape, text = draft.shape(edit.panel), _text(edit)
    if edit.has("at"):
        at = point_inward(edit, shape, "top left", "at")
    else:
        box = shape.box
        at = Point(
            (box.left + box.right - len(text) * LETTER_WIDTH * height) / 2,
            (box.bottom + box.top - height) / 2,
        )
    lettering = Lettering(edit.panel, text, at, height)
    return replace(draft, lettering=(*draft.lettering, lettering))


def _text(edit: Edit) -> str:
    text = edit.text("text")
    with beneath("text"):
        if len(text) > MAX_LETTERS:
            raise Refusal("too-long", f"a label of more than {MAX_LETTERS} letters")
        if not text.isprintable():
            raise Refusal("bad-character", "a label is one line of letters that can be printed")
    return text
