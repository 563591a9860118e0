"""A walk over the elements of an SVG file that draws what is drawn there."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import islice

from ...errors import Fault
from ...paths import Path
from ..out_of_bounds import OutOfBounds
from .bounds import MAX_DEPTH, Allowance
from .measures import Direction, Measures
from .naming import UNNAMED, Naming, of_group, of_shape
from .numbers import parse_length
from .remarks import Remarks
from .shapes import SHAPES, draw_shape
from .tracing import Pen
from .transforms import Matrix, after, parse_transform, translation
from .tree import Element
from .viewport import parse_fit, parse_view_box, view_matrix

MAX_FAULTS = 100


@dataclass(frozen=True, slots=True)
class Drawn:
    """One path on the page (mm, y down) with what its element and groups call it."""

    path: Path
    name: str
    naming: Naming


@dataclass(frozen=True, slots=True)
class Setting:
    """What holds for an element because of where it stands."""

    matrix: Matrix
    measures: Measures
    naming: Naming = UNNAMED
    is_hidden: bool = False
    depth: int = 0
    uses: tuple[str, ...] = ()  #: ids that are being followed


#: What each of these leaves behind when it is met, "" for nothing.
_LEFT_OUT = {
    "text": "text-left-out",
    "image": "picture-left-out",
    "video": "picture-left-out",
    "canvas": "picture-left-out",
    "foreignObject": "foreign-content-left-out",
}
#: Met anywhere in the file, even where nothing is drawn.
_ANYWHERE = {
    "style": "stylesheet-left-out",
    "script": "script-left-out",
    "animate": "animation-left-out",
    "animateMotion": "animation-left-out",
    "animateTransform": "animation-left-out",
    "set": "animation-left-out",
}
_HIDDEN = {"hidden": True, "collapse": True, "visible": False}
_MOVING_PROPERTIES = ("transform-origin", "transform-box", "offset-path", "zoom")


class Walk:
    """Draws a tree; what it found stands in *drawn*, *remarks* and *faults*."""

    def __init__(self, root: Element, remarks: Remarks, file: str) -> None:
        """Look once at every element, for ids and for what cannot be followed."""
        self.drawn: list[Drawn] = []
        self.faults: list[Fault] = []
        self.remarks = remarks
        self._file = file
        self._allowance = Allowance()
        self._by_id: dict[str, Element] = {}
        for element in root.walk():
            if element.get("id"):
                self._by_id.setdefault(element.get("id"), element)
            if element.tag in _ANYWHERE:
                remarks.add(_ANYWHERE[element.tag])

    def run(self, root: Element, setting: Setting) -> None:
        """Draw everything within *root* in the order of the file; raises OutOfBounds."""
        stack = [(child, setting) for child in reversed(root.children)]
        while stack:
            element, outer = stack.pop()
            if outer.depth > MAX_DEPTH:
                raise OutOfBounds("too-deep", f"its elements lie more than {MAX_DEPTH} deep")
            inside = list(self._visited(element, outer))
            self._allowance.take_elements(len(inside))
            stack.extend(reversed(inside))

    def _visited(self, element: Element, outer: Setting) -> Iterator[tuple[Element, Setting]]:
        """Draw *element*, or yield what has to be drawn in its place."""
        tag = element.tag
        if tag in _LEFT_OUT:
            self.remarks.add(_LEFT_OUT[tag])
        elif tag in SHAPES or tag in _CONTAINERS:
            if element.get("display") == "none":
                self.remarks.add("hidden-left-out")
                return
            inner = self._entered(element, outer)
            if tag in SHAPES:
                self._draw(element, inner)
            else:
                yield from _CONTAINERS[tag](self, element, inner)

    def _entered(self, element: Element, outer: Setting) -> Setting:
        """Return the setting with what *element* says of itself: transform, font, visibility."""
        for name in ("clip-path", "mask"):
            if element.get(name) not in ("", "none"):
                self.remarks.add("clipping-left-out")
        if any(element.get(name) for name in _MOVING_PROPERTIES):
            self.remarks.add("unknown-property")
        return Setting(
            self._moved(element, outer.matrix),
            with_font(element, outer.measures),
            outer.naming,
            _HIDDEN.get(element.get("visibility"), outer.is_hidden),
            outer.depth + 1,
            outer.uses,
        )

    def _moved(self, element: Element, matrix: Matrix) -> Matrix:
        text = element.get("transform")
        own = parse_transform(text) if text else None
        if text and own is None:
            self.remarks.add("broken-transform")
        return matrix if own is None else after(matrix, own)

    def _draw(self, element: Element, setting: Setting) -> None:
        if setting.is_hidden:
            self.remarks.add("hidden-left-out")
            return
        pen = Pen(setting.matrix, self._allowance)
        try:
            if not draw_shape(element, setting.measures, pen):
                self.remarks.add("broken-shape")
        except OutOfBounds as error:
            self._fault(element, error)
        name, naming = element.child_text("title"), of_shape(setting.naming, element)
        self.drawn.extend(Drawn(path, name, naming) for path in pen.paths)

    def _fault(self, element: Element, error: OutOfBounds) -> None:
        """Keep a fault of one shape; what uses up the whole file ends the walk."""
        field = element.get("id") or element.tag
        self.faults.append(Fault(self._file, element.line, 0, field, error.code, error.message))
        if error.code != "number-out-of-range" or len(self.faults) >= MAX_FAULTS:
            raise error

    def group(self, element: Element, inner: Setting) -> Iterator[tuple[Element, Setting]]:
        """Yield the children of a group."""
        inside = replace(inner, naming=of_group(inner.naming, element))
        yield from ((child, inside) for child in element.children)

    def switch(self, element: Element, inner: Setting) -> Iterator[tuple[Element, Setting]]:
        """Yield the one child of a switch that a plain reader can show."""
        inside = replace(inner, naming=of_group(inner.naming, element))
        shown = (child for child in element.children if _is_for_everyone(child))
        yield from ((child, inside) for child in islice(shown, 1))

    def use(self, element: Element, inner: Setting) -> Iterator[tuple[Element, Setting]]:
        """Yield what a use element shows, moved to its place."""
        link = element.get("href").strip()
        target = self._by_id.get(link[1:]) if link.startswith("#") else None
        if link and not link.startswith("#"):
            self.remarks.add("external-reference")
        elif target is None or link in inner.uses:
            self.remarks.add("broken-reference")
        else:
            x = inner.measures.length(element, "x", Direction.ACROSS) or 0.0
            y = inner.measures.length(element, "y", Direction.ALONG) or 0.0
            moved = after(inner.matrix, translation(x, y))
            naming = of_group(inner.naming, element)
            setting = replace(inner, matrix=moved, naming=naming, uses=(*inner.uses, link))
            yield _shown(target, element), setting

    def viewport(self, element: Element, inner: Setting) -> Iterator[tuple[Element, Setting]]:
        """Yield the children of an svg element within another, in its viewport."""
        measures = inner.measures
        x = measures.length(element, "x", Direction.ACROSS) or 0.0
        y = measures.length(element, "y", Direction.ALONG) or 0.0
        width = measures.length(element, "width", Direction.ACROSS)
        height = measures.length(element, "height", Direction.ALONG)
        width = measures.width if width is None else width
        height = measures.height if height is None else height
        if width <= 0 or height <= 0:
            return
        matrix, size = after(inner.matrix, translation(x, y)), (width, height)
        box = parse_view_box(element.get("viewBox"))
        if box is not None:
            fit = parse_fit(element.get("preserveAspectRatio"))
            matrix = after(matrix, view_matrix(box, width, height, fit))
            size = (box.width, box.height)
        sized = replace(measures, width=size[0], height=size[1])
        yield from self.group(element, replace(inner, matrix=matrix, measures=sized))


def _is_for_everyone(child: Element) -> bool:
    """Whether a child of a switch needs no extension and can be drawn; English where it says."""
    language = child.get("systemLanguage") or "en"
    is_known = child.tag in SHAPES or child.tag in _CONTAINERS
    return is_known and not child.get("requiredExtensions") and language.startswith("en")


def _shown(target: Element, use: Element) -> Element:
    """Return what a use element shows: a symbol becomes a viewport of the size that use gives."""
    if target.tag not in ("symbol", "svg"):
        return target
    sizes = {name: use.get(name) for name in ("width", "height") if use.get(name)}
    return replace(target, tag="svg", attributes={**target.attributes, **sizes})


def with_font(element: Element, measures: Measures) -> Measures:
    """Return *measures* with the font size that *element* sets, where it is a plain one."""
    length = parse_length(element.get("font-size"))
    if length is None:
        return measures
    if length.unit == "%":
        return replace(measures, font_size=measures.font_size * length.number / 100)
    return replace(measures, font_size=measures.to_units(length, Direction.OTHER))


_CONTAINERS = {
    "g": Walk.group,
    "a": Walk.group,
    "switch": Walk.switch,
    "use": Walk.use,
    "svg": Walk.viewport,
}
