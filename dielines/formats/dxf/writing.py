"""DXF files of a drawing: R12, and R2000 or later."""

from __future__ import annotations

import re

from ...drawing import Caption, Drawing, Group, Item
from ...lengths import MM_PER_UNIT
from ...paths import Path, bounds_of, flattened
from ..choices import Grouping
from .library import Entity, Sheet, Space
from .notes import notes_of, to_lines
from .options import Curves, DxfOptions, Version
from .sheet import APPLICATION, new_sheet, set_page, text_of

XYB = list[tuple[float, float, float]]
_CODE_LIKE = re.compile(r"\\(?=U\+[0-9A-Fa-f]{4})")
_STRING = 240  #: characters; an extended string holds 255 bytes


def write_dxf(drawing: Drawing, options: DxfOptions | None = None) -> str:
    """Return the DXF file of *drawing*, in ASCII, the same for the same drawing.

    Every path is a plain entity of the model space; arcs are exact (bulges)
    unless the options ask for chords. Part and name of a path travel as
    extended data, whatever else DXF has no place for as notes.
    """
    options = options or DxfOptions()
    notes = to_lines(notes_of(drawing, options.unit))
    sheet = new_sheet(drawing, options)
    if options.version is not Version.R12:
        _add_record(sheet, notes)
    pen = _Pen(sheet.modelspace(), options)
    for group, thing in _in_order(drawing, options):
        pen.draw(group, thing)
    shown = bounds_of(item.path for item in drawing.items()) if drawing.items() else None
    set_page(sheet, drawing, shown or drawing.bounds(), pen.scale)
    comments = "".join(f"999\n{line}\n" for line in notes)
    return (comments if options.version is Version.R12 else "") + _ascii(text_of(sheet))


def _add_record(sheet: Sheet, lines: list[str]) -> None:
    sheet.rootdict.add_xrecord(APPLICATION).reset([(1, line) for line in lines])


def _in_order(drawing: Drawing, options: DxfOptions) -> list[tuple[Group, Item | Caption]]:
    """Return all paths and captions with their part, in the order of the file."""
    things: list[tuple[Group, Item | Caption]] = []
    rank: dict[str, int] = {}
    for group in drawing.groups:
        rank[group.key] = len(rank) if options.grouping is Grouping.PART_THEN_LAYER else 0
        things += [(group, item) for item in group.items]
        things += [(group, caption) for caption in group.captions]
    layers = {layer: i for i, layer in enumerate(options.layers)}
    return sorted(things, key=lambda pair: (rank[pair[0].key], layers[pair[1].layer]))


class _Pen:
    """Draws paths and captions into a model space in the unit and manner of the options."""

    def __init__(self, space: Space, options: DxfOptions) -> None:
        self.space = space
        self.options = options
        self.scale = float(MM_PER_UNIT[options.unit])

    def draw(self, group: Group, thing: Item | Caption) -> None:
        if isinstance(thing, Caption):
            self.letter(thing).set_xdata(APPLICATION, _strings(group.key))
        elif thing.path.vertices:
            entity = self.line(self.vertices(thing.path), thing)
            entity.set_xdata(APPLICATION, _strings(group.key, thing.name))

    def vertices(self, path: Path) -> XYB:
        if self.options.curves is Curves.CHORDS:
            points = flattened(path, self.options.sagitta)
            return [(x / self.scale, y / self.scale, 0.0) for x, y in points]
        return [
            (float(v.x) / self.scale, float(v.y) / self.scale, float(v.bulge))
            for v in path.vertices
        ]

    def line(self, vertices: XYB, item: Item) -> Entity:
        attributes = {"layer": item.layer.value}
        if self.options.version is not Version.R12:
            return self.space.add_lwpolyline(
                vertices, format="xyb", close=item.path.closed, dxfattribs=attributes
            )
        if len(vertices) == 2 and not item.path.closed and not vertices[0][2]:
            return self.space.add_line(vertices[0][:2], vertices[1][:2], dxfattribs=attributes)
        return self.space.add_polyline2d(
            vertices, format="xyb", close=item.path.closed, dxfattribs=attributes
        )

    def letter(self, caption: Caption) -> Entity:
        x, y = float(caption.at.x) / self.scale, float(caption.at.y) / self.scale
        return self.space.add_text(
            _plain(caption.text),
            height=caption.height / self.scale,
            rotation=caption.angle_deg,
            dxfattribs={"layer": caption.layer.value, "insert": (x, y)},
        )


def _strings(part: str, name: str = "") -> list[tuple[int, str]]:
    """Return part and name as extended data; a long text in several pieces."""
    return [
        (1000, f"{key}={line[i : i + _STRING]}")
        for key, line in (("part", _literal(part)), ("name", _literal(name)))
        for i in range(0, len(line), _STRING)
    ]


def _one_line(text: str) -> str:
    return re.sub(r"[\x00-\x1f\x7f]+", " ", text)


def _plain(text: str) -> str:
    """Return *text* so that no sign of it is taken for a control code of TEXT."""
    return _literal(text).replace("%%", "%%%%%%").replace("^", "^ ")


def _ascii(text: str) -> str:
    r"""Return *text* with all but ASCII as ``\U+XXXX``, two for what lies beyond 16 bits."""
    return text if text.isascii() else re.sub(r"[^\x00-\x7f]", _codes, text)


def _literal(text: str) -> str:
    r"""Return *text*, of one line, so that what looks like ``\U+XXXX`` in it is not taken for it."""
    return _ascii(_CODE_LIKE.sub(_codes, _one_line(text)))


def _codes(match: re.Match[str]) -> str:
    units = match[0].encode("utf-16-be", "surrogatepass").hex().upper()
    return "".join(f"\\U+{units[i : i + 4]}" for i in range(0, len(units), 4))
