"""From an edited draft to a part: lines trimmed, outline chained, everything at its origin."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from ..documents import Refusal, beneath
from ..part import Edge, FoldKey, Line, LineKind, Panel, Part
from ..part_motion import at_origin
from ..paths import joined_bounds
from .borders import area_in_floats, rings_of
from .drafts import (
    Draft,
    borders_between,
    joined_text,
    lines_of,
    loose_groups,
    remaining_rules,
    rigid_pairs,
)
from .folding_keys import Rule
from .shapes import INWARD, Shape, edge_ends, edge_indices

MAX_SIZE = 10_000  #: mm; beyond any sheet or roll (from memory)


@dataclass(frozen=True)
class PartHead:
    """What a part says of itself beside its geometry."""

    name: str
    template: str
    version: int
    stock: str
    grain: str
    quantity: int
    bound: tuple[str, str] | None = None  #: panel and side, or a fold key and "fold"
    mouths: Mapping[str, str] = field(default_factory=dict)


def assembled(draft: Draft, head: PartHead) -> Part:
    """Return the part that *draft* makes; raises Refusal when it falls apart."""
    borders = draft.borders if draft.is_untouched else borders_between(draft.shapes)
    rules = remaining_rules(borders.contacts, draft.rules)
    refuse_loose(draft.shapes, rules)
    lines = lines_of(borders.contacts, rules)
    outline = rings_of(borders.free)
    _refuse_pieces(outline_count=sum(area_in_floats(ring) > 0 for ring in outline))
    part = Part(
        name=head.name,
        template=head.template,
        version=head.version,
        stock=head.stock,
        grain=_grain(head),
        quantity=head.quantity,
        panels=tuple(Panel(s.name, s.outline(), s.holes) for s in draft.shapes.values()),
        lines=lines,
        outline=outline,
        strokes=draft.strokes,
        zones=draft.zones,
        lettering=draft.lettering,
        steps=draft.steps,
        bound=_bound_edge(draft, lines, head.bound),
        mouths=tuple(
            edge_of(draft.shapes[name], side)
            for name, side in head.mouths.items()
            if name in draft.shapes
        ),
        rigid=rigid_pairs(rules),
    )
    return at_origin(part)


def refuse_loose(panels: Iterable[str], rules: Mapping[FoldKey, Rule]) -> None:
    """Raise Refusal when the panels do not hang together."""
    groups = loose_groups(panels, rules)
    if len(groups) > 1:
        names = joined_text([group[0] for group in groups[:3]])
        raise Refusal("falls-apart", f"falls apart: {names} hang together by nothing")


def refuse_giant(draft: Draft) -> None:
    """Raise Refusal where the part is larger than any that is made of paper."""
    box = joined_bounds([shape.box for shape in draft.shapes.values()])
    if max(box.width, box.height) > MAX_SIZE:
        raise Refusal("too-large", f"the part is larger than {MAX_SIZE // 1000} m")


def _refuse_pieces(outline_count: int) -> None:
    if outline_count != 1:
        raise Refusal("falls-apart", f"the edits leave {outline_count} pieces instead of one")


def edge_of(shape: Shape, side: str) -> Edge:
    """Return an edge of a panel, top or left end first; raises Refusal."""
    start, end = (shape.ring[index].point for index in edge_ends(shape, side))
    return Edge(shape.name, side, start, end)


def _bound_edge(draft: Draft, lines: Iterable[Line], bound: tuple[str, str] | None) -> Edge | None:
    if bound is None:
        return None
    panel, side = bound
    with beneath("bound"):
        return _fold_edge(lines, panel) if side == "fold" else _bound_side(draft, panel, side)


def _bound_side(draft: Draft, panel: str, side: str) -> Edge:
    shape = draft.shape(panel)
    edge = edge_of(shape, side)
    is_along = edge.start.x == edge.end.x if INWARD[side][0] else edge.start.y == edge.end.y
    is_curved = any(shape.ring[index].bulge for index in edge_indices(shape, side))
    if is_curved or not is_along:
        raise Refusal(
            "not-straight", f"nothing binds to the {side} edge of {panel!r}: it is not straight"
        )
    return edge


def _fold_edge(lines: Iterable[Line], key: str) -> Edge:
    found = [line for line in lines if str(line.key) == key and line.kind is LineKind.FOLD]
    if not found or not found[0].is_straight:
        raise Refusal("no-such-fold", f"'{key}' is no straight fold of this part")
    ends = sorted((p for piece in found[0].pieces for p in piece.points), key=lambda p: (p.x, -p.y))
    return Edge(key, "fold", ends[0], ends[-1])


def _grain(head: PartHead) -> str:
    if head.grain != "spine":
        return head.grain
    if head.bound is None:
        return "up"
    panel, side = head.bound
    is_level = "/" in panel if side == "fold" else side in ("top", "bottom")
    return "across" if is_level else "up"
