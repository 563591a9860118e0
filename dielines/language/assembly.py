"""From an edited draft to a part: lines trimmed, outline chained, everything at its origin."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from ..documents import Refusal
from ..part import Edge, Panel, Part
from ..part_motion import at_origin
from ..paths import signed_area
from .borders import Borders, borders_of, rings_of
from .drafts import Draft, joined_text, lines_of, loose_groups, outlines_of, rigid_pairs
from .shapes import Shape, edge_indices


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
    refuse_loose(draft)
    borders = borders_of(outlines_of(draft.shapes))
    outline = rings_of(borders.free)
    _refuse_pieces(outline_count=sum(signed_area(ring) > 0 for ring in outline))
    part = Part(
        name=head.name,
        template=head.template,
        version=head.version,
        stock=head.stock,
        grain=_grain(head),
        quantity=head.quantity,
        panels=tuple(Panel(s.name, s.outline(), s.holes) for s in draft.shapes.values()),
        lines=lines_of(borders, draft.rules),
        outline=outline,
        strokes=draft.strokes,
        zones=draft.zones,
        lettering=draft.lettering,
        steps=draft.steps,
        bound=_bound_edge(draft, borders, head.bound),
        mouths=tuple(
            edge_of(draft.shapes[name], side)
            for name, side in head.mouths.items()
            if name in draft.shapes
        ),
        rigid=rigid_pairs(draft.rules),
    )
    return at_origin(part)


def refuse_loose(draft: Draft) -> None:
    """Raise Refusal when the panels do not hang together."""
    groups = loose_groups(draft.shapes, draft.rules)
    if len(groups) > 1:
        names = joined_text([group[0] for group in groups[:3]])
        raise Refusal("falls-apart", f"falls apart: {names} hang together by nothing")


def _refuse_pieces(outline_count: int) -> None:
    if outline_count != 1:
        raise Refusal("falls-apart", f"the edits leave {outline_count} pieces instead of one")


def edge_of(shape: Shape, side: str) -> Edge:
    """Return an edge of a panel, top or left end first; raises Refusal."""
    pieces = edge_indices(shape, side)
    start = shape.ring[pieces[0]].point
    end = shape.ring[(pieces[-1] + 1) % len(shape.ring)].point
    if side in ("top", "right"):
        start, end = end, start
    return Edge(shape.name, side, start, end)


def _bound_edge(draft: Draft, borders: Borders, bound: tuple[str, str] | None) -> Edge | None:
    if bound is None:
        return None
    panel, side = bound
    if side != "fold":
        return edge_of(draft.shape(panel), side)
    line = next(line for line in lines_of(borders, draft.rules) if str(line.key) == panel)
    start, end = sorted(line.pieces[0].points, key=lambda p: (p.x, -p.y))
    return Edge(panel, side, start, end)


def _grain(head: PartHead) -> str:
    if head.grain != "spine":
        return head.grain
    return "across" if head.bound and head.bound[1] in ("top", "bottom") else "up"
