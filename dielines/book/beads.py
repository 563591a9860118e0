"""The bead of glue that closes a pocket's binding end: a mark, where a book asks for it."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from ..bindings.bound import BoundPart
from ..language.grafts import PREFIX
from ..part import Edge, Part, Purpose, Stroke
from ..paths import Number, Path, line

NAME = "glue"
FROM_EDGE = Fraction(2)  #: mm, common practice: glue pressed flat stays inside the edge


def with_bead(entry: BoundPart) -> BoundPart:
    """Return a bound page with a mark along the binding end of each pocket that is open there."""
    part = entry.part
    if part.bound is None or part.bound.side not in ("left", "right"):
        return entry
    marks = [
        Stroke(mouth.panel, Purpose.MARK, _bead(part, part.bound, mouth.panel), name=NAME)
        for mouth in part.mouths
        if _ends_at(part, part.bound, mouth.panel)
    ]
    return replace(entry, part=replace(part, strokes=(*part.strokes, *marks)))


def _ends_at(part: Part, bound: Edge, panel: str) -> bool:
    """Return whether a pocket's front ends at the bound edge, with no seam of its own there."""
    edge = _binding_edge(part, bound, panel)
    return edge == bound.start.x and not any(
        panel in line.key.panels()
        and not any(name.startswith(PREFIX) for name in line.key.panels())
        and all(point.x == edge for piece in line.pieces for point in piece.points)
        for line in part.lines
    )


def _binding_edge(part: Part, bound: Edge, panel: str) -> Number:
    box = part.panel(panel).bounds()
    return box.left if bound.side == "left" else box.right


def _bead(part: Part, bound: Edge, panel: str) -> Path:
    box = part.panel(panel).bounds()
    inward = FROM_EDGE if bound.side == "left" else -FROM_EDGE
    x = _binding_edge(part, bound, panel) + inward
    return line((x, box.bottom + FROM_EDGE), (x, box.top - FROM_EDGE))
