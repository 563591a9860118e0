"""``tape``: a zone of double-sided tape on one side of a panel, and where it lands."""

from dataclasses import replace
from fractions import Fraction

from ...documents import Refusal, beneath, suggestion
from ...fields import Field, Kind
from ...landing import overhang_of
from ...part import Side, Zone
from ...paths import Path
from ..drafts import Draft
from ..editing import Edit, side_named
from ..insets import inset_outline, strip_of
from ..shapes import Shape
from ..work import ZONE

VERB = "tape"
FIELDS = (
    Field("side", Kind.TEXT, True, words=("face", "reverse")),
    Field("inset", Kind.SIZE),
    Field("edge", Kind.TEXT),
    Field("width", Kind.SIZE),
    Field("onto", Kind.TEXT_OR_LIST),
    Field("name", Kind.TEXT),
)
#: what a binding's fragment may name besides panels
BINDING_TARGETS = ("board", "spine")


def apply(draft: Draft, edit: Edit) -> Draft:
    """Return *draft* with a zone: the panel less its inset, or a strip along an edge."""
    onto = edit.text("onto")
    if "." not in onto and draft.has_vanished(onto):
        return draft
    with beneath("onto"):
        _refuse_target(draft, edit.panel, onto)
    edit.flat.work.spend(ZONE)
    name = _unique_name(draft, edit.name("name", edit.panel))
    zone = Zone(name, edit.panel, Side(edit.text("side")), _outline(draft, edit), onto)
    return replace(draft, zones=(*draft.zones, zone))


def _outline(draft: Draft, edit: Edit) -> Path:
    shape = draft.shape(edit.panel)
    inset = edit.size("inset", Fraction(0))
    if edit.has("edge") != edit.has("width"):
        raise Refusal("which-size", "a strip of tape needs both an edge and a width")
    is_strip = edit.has("edge")
    with beneath("inset"):
        zone = inset_outline(replace(shape, holes=()) if is_strip else shape, inset)
    return _strip(zone, shape, edit, inset) if is_strip else zone


def _strip(zone: Path, shape: Shape, edit: Edit, inset: Fraction) -> Path:
    """Return the strip of *zone* along an edge; raises Refusal where the panel has a hole in it."""
    with beneath("edge"):
        side = side_named(edit.text("edge"))
    strip = strip_of(zone, shape, side, inset, edit.size("width"))
    if not overhang_of(strip, strip, shape.holes).is_inside:
        with beneath("width"):
            raise Refusal("holed-zone", f"panel {shape.name!r} has a hole in this strip")
    return strip


def _refuse_target(draft: Draft, panel: str, onto: str) -> None:
    """Raise Refusal for a target that is no panel, and for the panel that bears the tape."""
    if onto == panel:
        remedy = "Name the panel that it comes to lie on, or leave onto out."
        raise Refusal(
            "own-panel", f"tape on panel {panel!r} cannot land on that same panel", remedy
        )
    if not onto or "." in onto or onto in draft.shapes or onto in BINDING_TARGETS:
        return
    hint = suggestion(onto, draft.known)
    raise Refusal("no-panel", f"no panel {onto!r}{hint}", "Another part is written part.panel.")


def _unique_name(draft: Draft, name: str) -> str:
    taken = {zone.name for zone in draft.zones}
    if name not in taken:
        return name
    return next(f"{name}{n}" for n in range(2, len(taken) + 3) if f"{name}{n}" not in taken)
