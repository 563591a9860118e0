"""Whether panels are still whole after an edit: no crossing edges, nothing outside, nothing cut off."""

from __future__ import annotations

from collections.abc import Sequence

from ..documents import Refusal
from ..landing import overhang_of, rectangle_of
from ..part import Stroke
from ..paths import Path, bounds_of
from .arrangement import crossing_of_itself
from .borders import area_in_floats
from .clearance import Border, lies_clear, lies_within
from .drafts import Draft, Flat
from .rings import Place
from .shapes import Shape, is_inside_box

#: mm2; a panel of less is no panel
_NO_AREA = 1e-3


def refuse_unsound(flat: Flat, before: Draft, after: Draft) -> None:
    """Raise Refusal where a panel that was changed is not one whole piece of its old self."""
    if after.shapes is before.shapes:
        return
    flat.work.spend(len(after.shapes) / 50)
    for name, shape in after.shapes.items():
        if shape is not before.shapes[name]:
            strokes = [stroke for stroke in after.strokes if stroke.panel == name]
            count = len(shape.ring)
            flat.work.spend(count * (count + 4 * len(shape.holes) + 4 * len(strokes)) / 40)
            _refuse_unsound(flat.draft.shapes[name], shape, strokes)


def _refuse_unsound(untouched: Shape, shape: Shape, strokes: Sequence[Stroke]) -> None:
    outline = shape.outline()
    if not _is_whole(shape, outline):
        told = f"leaves of panel {shape.name!r} no longer one whole piece in its place"
        raise Refusal("cut-through", told, "Make it smaller, or shallower.")
    is_plain = rectangle_of(untouched.outline()) is not None
    if not is_plain and not overhang_of(outline, untouched.outline()).is_inside:
        raise Refusal("outside", f"the edges of panel {shape.name!r} would leave its place")
    if shape.ring is not untouched.ring:
        _refuse_cut_off(shape, outline, strokes)


def _is_whole(shape: Shape, outline: Path) -> bool:
    """Return whether the outline is one simple ring that does not leave the panel's place."""
    if not is_inside_box(bounds_of([outline]), shape.box):
        return False
    if area_in_floats(outline) < _NO_AREA:
        return False
    return _turns_left_only(outline) or crossing_of_itself(outline) is None


def _turns_left_only(outline: Path) -> bool:
    """Return whether it is a triangle or quadrilateral that cannot cross itself."""
    if len(outline.vertices) > 4 or any(vertex.bulge for vertex in outline.vertices):
        return False
    places = [(float(x), float(y)) for x, y in outline.points]
    return all(_turns_left(places[i - 2], places[i - 1], places[i]) for i in range(len(places)))


def _turns_left(a: Place, b: Place, c: Place) -> bool:
    return (b[0] - a[0]) * (c[1] - b[1]) > (b[1] - a[1]) * (c[0] - b[0])


def _refuse_cut_off(shape: Shape, outline: Path, strokes: Sequence[Stroke]) -> None:
    """Raise Refusal where a hole or a line that was there before lies outside now."""
    border = Border(outline)
    holes_are_whole = all(lies_clear(hole, border, ()) for hole in shape.holes)
    if not holes_are_whole or not all(lies_within(s.path, border, ()) for s in strokes):
        told = f"cuts into a hole or a line that was made on panel {shape.name!r} before"
        raise Refusal("cut-off", told)
