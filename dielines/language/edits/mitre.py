"""``mitre``: a taper told by the angle between the fold and the cut.

Turn-ins that end on the mirror image of the corner's bisector, each in its own
edge, meet without gap or overlap once folded in: the angle is half the corner's.
"""

import math
from fractions import Fraction

from ...documents import Refusal, beneath
from ...fields import Field, Kind
from ...paths import Number
from ..drafts import Draft
from ..editing import Edit
from ..expressions import angle_of
from ..shapes import INWARD, OPPOSITE
from .taper import drawn_in, fold_side

VERB = "mitre"
FIELDS = (
    Field("angle", Kind.SIZE_OR_LIST, True),
    Field("setback", Kind.SIZE_OR_LIST),
    Field("from", Kind.TEXT),
)
SQUARE = "square"


def apply(draft: Draft, edit: Edit) -> Draft:
    """Return *draft* with both ends of the panel cut at their angles to its fold."""
    near = fold_side(draft, edit)
    shape = draft.shape(edit.panel)
    depth = shape.box.width if INWARD[near][0] else shape.box.height
    back = edit.sizes("setback", (1, 2)) if edit.has("setback") else [Fraction(0)]
    runs = [run + depth_run(edit, i, depth) for i, run in enumerate((back[0], back[-1]))]
    if any(back):
        with beneath("setback"):
            shape = drawn_in(shape, near, back[0], back[-1], edit)
    with beneath("angle"):
        return draft.with_shape(drawn_in(shape, OPPOSITE[near], runs[0], runs[1], edit))


def depth_run(edit: Edit, end: int, depth: Number) -> Number:
    """Return how far the cut at one end runs along the far edge, mm: depth / tan(angle)."""
    raw = edit.fields["angle"]
    with beneath("angle"):
        if isinstance(raw, list):
            if len(raw) not in (1, 2):
                raise Refusal("list-length", "expected one angle, or one for each end")
            raw = raw[-1 if end else 0]
        if raw == SQUARE:
            return Fraction(0)
        angle = angle_of(raw, edit.scope)
        if not 0 < angle <= 90:
            raise Refusal("angle-range", f"{angle} is outside 0 to 90")
    return run_of(angle, depth)


def run_of(angle_deg: Fraction, depth: Number) -> Number:
    """Return depth / tan(angle), exact for 45 and 90 degrees."""
    exact = {Fraction(45): depth, Fraction(90): Fraction(0)}
    return exact[angle_deg] if angle_deg in exact else depth / math.tan(math.radians(angle_deg))
