"""Drawing to SVG text: true size, plain absolute paths, nothing that needs a browser.

Paths carry no transform, no CSS and no ``use``, since programs that take cut
files know little more than paths; a caption that runs at an angle is the one
thing that is turned. The y axis is turned over here and nowhere else.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from ...drawing import PROCESSING_STEPS, Caption, Drawing, Group, Item, Layer
from ...errors import UsageError
from ...paths import Point
from ..choices import Grouping
from ..layer_words import TITLES, step_words
from .metadata import metadata_element, printable
from .options import CUT_FILE, Cue, Options, SizeUnit
from .path_data import SIZE_DECIMALS, Corner, decimal, path_data

#: Height of a capital letter as a share of the font size; from memory, of common sans serifs.
CAPITAL_SHARE = 0.7
MM_PER_INCH = 25.4


@dataclass(frozen=True)
class _Sheet:
    """What every element needs to know: the factory, the choices and where points go."""

    factory: Any
    options: Options
    place: Callable[[Point], Corner]

    def scaled(self, length: float) -> str:
        """Return a length in mm as user units."""
        return decimal(length * self.options.user_unit.value / MM_PER_INCH)


def write_svg(drawing: Drawing, options: Options = CUT_FILE) -> str:
    """Return *drawing* as the text of an SVG file; the same drawing gives the same text.

    Raises UsageError for a page without width or height, Defect for a number
    that is not finite.
    """
    if not (drawing.width > 0 and drawing.height > 0):
        raise UsageError(f"a page of {drawing.width} x {drawing.height} mm cannot be drawn")
    root = _root(drawing, options)
    sheet = _Sheet(root, options, _placement(float(drawing.height), options))
    for element in _grouped(drawing, sheet):
        root.add(element)
    return _serialised(root)


def _placement(height: float, options: Options) -> Callable[[Point], Corner]:
    scale = options.user_unit.value / MM_PER_INCH
    return lambda point: Corner(float(point.x) * scale, (height - float(point.y)) * scale)


def _serialised(root: Any) -> str:
    from xml.etree import ElementTree

    tree = root.get_xml()
    ElementTree.indent(tree, " ")
    text = ElementTree.tostring(tree, encoding="unicode")
    return f'<?xml version="1.0" encoding="utf-8"?>\n{text}\n'


def _root(drawing: Drawing, options: Options) -> Any:
    """Return the empty svg element with size, viewBox, title, description and metadata."""
    import svgwrite  # type: ignore[import-untyped]

    unit = options.size_unit
    per_unit = MM_PER_INCH if unit is SizeUnit.INCHES else 1.0
    scale = options.user_unit.value / MM_PER_INCH
    width, height = drawing.width, drawing.height
    root = svgwrite.Drawing(
        size=[_size(side / per_unit) + unit.value for side in (width, height)],
        viewBox=f"0 0 {_size(width * scale)} {_size(height * scale)}",
        debug=False,
    )
    root.elements.clear()  # an empty defs element
    root.update(
        {
            "role": "img",
            "lang": options.language,
            "xml:lang": options.language,
            "data-up": "face" if drawing.face_up else "reverse",
        }
    )
    _describe(root, [drawing.title, "Drawing"], [drawing.description, _size_words(drawing)])
    root.set_metadata(metadata_element(drawing.metadata))
    return root


def _size(side: float) -> str:
    return decimal(side, SIZE_DECIMALS)


def _size_words(drawing: Drawing) -> str:
    side = "face" if drawing.face_up else "reverse"
    return f"{float(drawing.width):.2f} x {float(drawing.height):.2f} mm, {side} up"


def _describe(element: Any, titles: Sequence[str], descriptions: Sequence[str]) -> None:
    """Give *element* the first title and description that are not blank; the title comes first."""
    element.set_desc(title=_first_said(titles), desc=_first_said(descriptions))


def _first_said(texts: Sequence[str]) -> str | None:
    return next((printable(text) for text in texts if text.strip()), None)


def _grouped(drawing: Drawing, sheet: _Sheet) -> Iterator[Any]:
    groupings = {
        Grouping.PART_THEN_LAYER: _by_part,
        Grouping.LAYER_THEN_PART: _by_layer,
        Grouping.NONE: _ungrouped,
    }
    return groupings[sheet.options.grouping](drawing, sheet)


def _by_part(drawing: Drawing, sheet: _Sheet) -> Iterator[Any]:
    for group in drawing.groups:
        part = _part_element(group, f"part.{group.key}", sheet)
        for layer in sheet.options.layers:
            if _has(group, layer):
                inner = _layer_element(layer, f"{layer.value}.{group.key}", sheet)
                _fill(inner, group, layer, sheet)
                part.add(inner)
        yield part


def _by_layer(drawing: Drawing, sheet: _Sheet) -> Iterator[Any]:
    for layer in sheet.options.layers:
        groups = [group for group in drawing.groups if _has(group, layer)]
        outer = _layer_element(layer, layer.value, sheet)
        for group in groups:
            part = _part_element(group, f"{layer.value}.{group.key}", sheet)
            _fill(part, group, layer, sheet)
            outer.add(part)
        if groups:
            yield outer


def _ungrouped(drawing: Drawing, sheet: _Sheet) -> Iterator[Any]:
    for layer in sheet.options.layers:
        for group in drawing.groups:
            for element in _elements(group, layer, sheet):
                element.update(_layer_attributes(layer) | _part_attributes(group))
                yield element


def _has(group: Group, layer: Layer) -> bool:
    layers = [item.layer for item in group.items] + [text.layer for text in group.captions]
    return layer in layers


def _part_element(group: Group, identifier: str, sheet: _Sheet) -> Any:
    element = sheet.factory.g(id=identifier)
    element.update(_part_attributes(group))
    layers = [layer for layer in sheet.options.layers if _has(group, layer)]
    _describe(element, [group.title, group.key], [", ".join(layer.value for layer in layers)])
    return element


def _layer_element(layer: Layer, identifier: str, sheet: _Sheet) -> Any:
    element = sheet.factory.g(id=identifier)
    element.update(_layer_attributes(layer))
    _describe(element, [TITLES[layer]], [f"Processing step: {step_words(layer)}"])
    return element


def _part_attributes(group: Group) -> dict[str, str]:
    return {"data-part": group.key, "data-part-title": printable(group.title)}


def _layer_attributes(layer: Layer) -> dict[str, str]:
    """Return the layer and its processing step (ISO 19593-1) as data attributes."""
    group, kind = PROCESSING_STEPS[layer]
    named = {"data-layer": layer.value, "data-processing-step-group": group}
    return named | ({"data-processing-step-type": kind} if kind else {})


def _fill(element: Any, group: Group, layer: Layer, sheet: _Sheet) -> None:
    for inner in _elements(group, layer, sheet):
        element.add(inner)


def _elements(group: Group, layer: Layer, sheet: _Sheet) -> Iterator[Any]:
    """Yield the paths and captions of *group* on *layer*.

    An id is a layer, a number and the key of a part: keys are unique and, being
    XML names, start with no digit, so that no two ids can be the same.
    """
    items = [item for item in group.items if item.layer is layer]
    for number, item in enumerate(items, 1):
        if item.path.vertices:
            yield _path_element(item, f"{layer.value}.{number}.{group.key}", sheet)
    for caption in group.captions:
        if caption.layer is layer:
            yield _text_element(caption, sheet)


def _path_element(item: Item, identifier: str, sheet: _Sheet) -> Any:
    style = sheet.options.styles[item.layer]
    element = sheet.factory.path(
        d=path_data(item.path, sheet.place),
        id=identifier,
        fill="none",
        stroke=style.colour,
        stroke_width=sheet.scaled(style.width),
    )
    if sheet.options.cue is Cue.COLOUR_AND_DASH and style.dashes:
        element["stroke-dasharray"] = _dash_words(style.dashes, sheet)
    _describe(element, [item.name], [])
    return element


def _dash_words(dashes: Sequence[float], sheet: _Sheet) -> str:
    return " ".join(sheet.scaled(length) for length in dashes)


def _text_element(caption: Caption, sheet: _Sheet) -> Any:
    corner = sheet.place(caption.at)
    x, y = decimal(corner.x), decimal(corner.y)
    element = sheet.factory.text(
        printable(caption.text),
        font_family="sans-serif",
        font_size=sheet.scaled(caption.height / CAPITAL_SHARE),
        fill=sheet.options.styles[caption.layer].colour,
    )
    element.update({"x": x, "y": y})
    if caption.angle_deg:
        element["transform"] = f"rotate({decimal(-caption.angle_deg)} {x} {y})"
    return element
