"""Cutting into panels, and through the layers that lie over the place once folded."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction

from ..documents import Refusal, beneath
from ..fields import name_of_kind
from ..landing import land
from ..part import Purpose, Stroke
from ..paths import Number, Path, Point, reversed_path
from .clearance import Border, lies_clear, lies_within
from .drafts import Draft, names_of
from .editing import Edit
from .rings import Corner
from .shapes import Shape, spliced

#: cuts one panel of a draft along a path that lies in the flat part
Cutter = Callable[[Draft, str, Path], Draft]


def cut_through(draft: Draft, edit: Edit, path: Path, cutter: Cutter) -> Draft:
    """Return *draft* cut along *path* on the edit's panel and on the layers it names."""
    spend_on_cut(edit, draft.shape(edit.panel))
    draft = cutter(draft, edit.panel, path)
    layers = edit.fields.get("through", [])
    if not layers or not edit.flat.draft.is_foldable:
        return draft
    for index, name in enumerate(layers):
        with beneath("through", index):
            if not isinstance(name, str):
                raise Refusal("wrong-kind", f"expected text, got {name_of_kind(name)}")
            for layer in names_of(draft, name):
                spend_on_cut(edit, draft.shape(layer))
                landed = _landed(edit, path, layer)
                draft = _cut_layer(draft, edit, layer, landed, cutter)
    return draft


def spend_on_cut(edit: Edit, shape: Shape) -> None:
    """Count the work of one cut into a panel, which grows with what is cut there already."""
    edit.flat.work.spend(5 + len(shape.ring) + len(shape.holes) / 2)


def _landed(edit: Edit, path: Path, layer: str) -> Path:
    """Return where *path* comes to lie on *layer*; raises Refusal when that is elsewhere."""
    landing = land(edit.flat.poses[edit.panel], edit.flat.poses[layer], path)
    if not landing.is_parallel:
        raise _not_over(edit.panel, layer)
    return landing.path


def _not_over(panel: str, layer: str) -> Refusal:
    return Refusal("not-over", f"{layer!r} does not lie over {panel!r} at this place once folded")


def _cut_layer(draft: Draft, edit: Edit, layer: str, path: Path, cutter: Cutter) -> Draft:
    try:
        return cutter(draft, layer, path)
    except Refusal:
        raise _not_over(edit.panel, layer) from None


def cut_notch(draft: Draft, panel: str, path: Path) -> Draft:
    """Return *draft* with the open *path* cut into a straight edge of *panel*."""
    shape = draft.shape(panel)
    try:
        return draft.with_shape(_spliced_along(shape, path))
    except Refusal:
        return draft.with_shape(_spliced_along(shape, reversed_path(path)))


def _spliced_along(shape: Shape, path: Path) -> Shape:
    inner = [Corner(v.x, v.y, v.bulge) for v in path.vertices[:-1]]
    return spliced(shape, path.vertices[0].point, path.vertices[-1].point, inner)


def cut_hole(draft: Draft, panel: str, path: Path) -> Draft:
    """Return *draft* with the closed *path* cut out of *panel*, with paper left all around it.

    Raises Refusal.
    """
    shape = draft.shape(panel)
    if not lies_clear(path, Border(shape.outline()), shape.holes):
        raise _outside(shape)
    return draft.with_shape(replace(shape, holes=(*shape.holes, path)))


def refuse_outside(shape: Shape, path: Path) -> None:
    """Raise Refusal when *path* leaves the panel or runs into one of its holes."""
    if not lies_within(path, Border(shape.outline()), shape.holes):
        raise _outside(shape)


def _outside(shape: Shape) -> Refusal:
    return Refusal("outside", f"does not lie within panel {shape.name!r}")


def stroke_cutter(purpose: Purpose, angle_deg: Number, name: str) -> Cutter:
    """Return the cutter that draws a line of *purpose* on a panel."""

    def draw(draft: Draft, panel: str, path: Path) -> Draft:
        refuse_outside(draft.shape(panel), path)
        stroke = Stroke(panel, purpose, path, angle_deg, name)
        return replace(draft, strokes=(*draft.strokes, stroke))

    return draw


def along(start: Point, end: Point, distance: Number, length: Number) -> Point:
    """Return the point *distance* from *start* on the straight way to *end*.

    What does not change along the way stays exact, whatever the distance.
    """
    share = distance / length if length else Fraction(0)
    dx, dy = end.x - start.x, end.y - start.y
    return Point(start.x + dx * share if dx else start.x, start.y + dy * share if dy else start.y)
