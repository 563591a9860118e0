"""What a part says of itself beside its geometry: name, stock, grain, quantity, bound edge, mouths."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from ..documents import Place, Refusal, beneath
from ..fields import Kind, is_kind, name_of_kind
from .assembly import PartHead
from .drafts import Draft, fold_sides
from .editing import side_named
from .expressions import Scope, whole_of
from .folding_keys import is_line_name, parse_key
from .repeats import numbered_text
from .written_template import Template

MAX_QUANTITY = 1000


def read_head(
    place: Place,
    template: Template,
    name: str,
    fields: Mapping[str, Any],
    draft: Draft,
    scope: Scope,
) -> PartHead:
    """Return the head of a part; faults are reported."""
    quantity, bound = 1, None
    with place.collecting(), beneath("quantity"):
        quantity = _quantity(fields.get("quantity", 1), scope)
    with place.collecting(), beneath("bound"):
        bound = _bound(draft, numbered_text(fields.get("bound", ""), scope))
    return PartHead(
        name=numbered_text(name, scope),
        template=template.name,
        version=template.version,
        stock=fields.get("stock", "cardstock"),
        grain=fields.get("grain", "spine"),
        quantity=quantity,
        bound=bound,
        mouths=_mouths(place / "mouth", draft, fields.get("mouth", {}), scope),
    )


def _quantity(raw: Any, scope: Scope) -> int:
    quantity = whole_of(raw, scope)
    if not 0 <= quantity <= MAX_QUANTITY:
        raise Refusal("out-of-range", f"{quantity} is outside 0 to {MAX_QUANTITY}")
    return quantity


def _bound(draft: Draft, text: str) -> tuple[str, str] | None:
    """Return the bound panel and side, or the bound fold and "fold"; raises Refusal."""
    if not text:
        return None
    if is_line_name(text):
        key = parse_key(text)
        if key not in draft.rules:
            raise Refusal("no-contact", f"{text[:80]!r} is no line of this part")
        return str(key), "fold"
    panel, _, side = text.strip().partition(" ")
    draft.shape(panel)
    if side_named(side) in fold_sides(draft, panel):
        raise Refusal("bound-folded", f"the {side} side of {panel!r} is folded, not free")
    return panel, side


def _mouths(place: Place, draft: Draft, table: Mapping[str, Any], scope: Scope) -> dict[str, str]:
    """Return the open side of each pocket; vanished panels fall silent."""
    mouths = {}
    for raw, side in table.items():
        with (place / raw).collecting():
            panel = numbered_text(raw, scope)
            if not is_kind(side, Kind.TEXT):
                raise Refusal("wrong-kind", f"expected a side, got {name_of_kind(side)}")
            if not draft.has_vanished(panel):
                draft.shape(panel)
                mouths[panel] = side_named(side)
    return mouths
