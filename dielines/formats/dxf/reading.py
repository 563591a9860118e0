"""DXF files, ours and other people's, read as drawings in millimetres."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import replace

from ...drawing import Caption, Drawing, Group, Item
from ...errors import ForeignFileError
from ...paths import bounds_of
from ..readings import Reading, Remark
from .blocks import Unbounded
from .gathering import Found, Gathering, TooManyVertices, gathered
from .library import Sheet
from .notes import Note, from_lines, pairs_of, value_of
from .opening import Opened, guarded, open_sheet
from .sheet import APPLICATION
from .units import IMPERIAL_NUMBERS, INSUNITS, UNITLESS, UNITS

NO_PART = "drawing"  #: key of the group that holds what names no part


def read_dxf(content: bytes, name: str) -> Reading:
    """Return what the DXF file *content* holds; *name* is what messages call it.

    R12 and later, text or binary. Lines and arcs stay exact, ellipses and splines
    become chords (0.01 mm), blocks are taken apart. Coordinates keep their
    origin. A file without a unit is read as millimetres, with a remark.
    Raises ForeignFileError for whatever cannot be read or exceeds the bounds.
    """
    opened = open_sheet(content, name)
    return guarded(name, lambda: _reading(opened, name))


def _reading(opened: Opened, name: str) -> Reading:
    notes = from_lines((*_record_lines(opened.sheet), *opened.comments))
    number, remarks = _unit(opened, notes)
    unit, mm_per_unit = UNITS.get(number, ("unitless", 1.0))
    gathering = _gathered(opened.sheet, mm_per_unit, name)
    groups, source_layers = _arranged(gathering.found, notes)
    drawing, page_remarks = _on_page(Drawing(0.0, 0.0, groups), notes)
    return Reading(
        _described(drawing, notes),
        "dxf",
        unit,
        1 / mm_per_unit,
        source_layers,
        (*opened.remarks, *remarks, *page_remarks, *gathering.remarks(), *_paper(opened.sheet)),
        opened.version,
    )


def _record_lines(sheet: Sheet) -> Iterator[str]:
    """Yield the lines of the record that our files of R2000 and later hold."""
    record = sheet.rootdict.get(APPLICATION)
    for tag in getattr(record, "tags", ()):
        if tag.code == 1:
            yield str(tag.value)


def _unit(opened: Opened, notes: Iterable[Note]) -> tuple[int, list[Remark]]:
    """Return the number of the file's unit and what is odd about it."""
    header = opened.sheet.header
    number = header.get("$INSUNITS", UNITLESS) if opened.has_header else UNITLESS
    if number == UNITLESS:
        noted = {str(unit): number for unit, number in INSUNITS.items()}
        number = noted.get(value_of(notes, "unit"), UNITLESS)
        return number, [] if number else [_unitless("The file tells no unit")]
    if number not in UNITS:
        return UNITLESS, [_unitless(f"The file's unit has the unknown number {number}")]
    is_imperial = header.get("$MEASUREMENT", None) == 0
    if "$MEASUREMENT" in header and is_imperial != (number in IMPERIAL_NUMBERS):
        words = f"The file's unit is {UNITS[number][0]}, but $MEASUREMENT says the opposite."
        return number, [Remark("units-disagree", words)]
    return number, []


def _unitless(beginning: str) -> Remark:
    return Remark("no-physical-size", f"{beginning}; its numbers were taken for millimetres.")


def _gathered(sheet: Sheet, mm_per_unit: float, name: str) -> Gathering:
    try:
        return gathered(sheet, mm_per_unit)
    except Unbounded as reason:
        words = f"blocks hold each other too {reason}"
        raise ForeignFileError.of(name, f"too-{reason}", words) from None
    except TooManyVertices:
        raise ForeignFileError.of(name, "too-many", "too many points") from None


def _arranged(
    found: Iterable[Found], notes: Iterable[Note]
) -> tuple[tuple[Group, ...], tuple[str, ...]]:
    """Return the groups, noted ones first and in order, and the file's layer name of each path."""
    titles = dict(pairs_of(notes, "group"))
    parts: dict[str, list[Found]] = {key: [] for key in titles}
    for thing in found:
        parts.setdefault(thing.part or NO_PART, []).append(thing)
    groups = tuple(_group(key, titles.get(key, ""), things) for key, things in parts.items())
    layers = (
        thing.source_layer
        for things in parts.values()
        for thing in things
        if isinstance(thing.thing, Item)
    )
    return groups, tuple(layers)


def _group(key: str, title: str, found: Iterable[Found]) -> Group:
    things = [thing.thing for thing in found]
    items = tuple(thing for thing in things if isinstance(thing, Item))
    return Group(key, title, items, tuple(t for t in things if isinstance(t, Caption)))


def _on_page(drawing: Drawing, notes: Iterable[Note]) -> tuple[Drawing, list[Remark]]:
    """Return *drawing* with the page that the notes tell, else with the size of its contents."""
    for texts in pairs_of(notes, "page"):
        width, height = (_size(text) for text in texts)
        if width and height:
            return replace(drawing, width=width, height=height), []
    box = bounds_of(item.path for item in drawing.items())
    size = replace(drawing, width=float(box.width), height=float(box.height))
    return size, [Remark("no-page", "The file tells no page; its contents were measured instead.")]


def _size(text: str) -> float:
    """Return the length that *text* says, mm; 0 when it says none."""
    try:
        value = float(text)
    except ValueError:
        return 0.0
    return value if math.isfinite(value) and value > 0 else 0.0


def _described(drawing: Drawing, notes: Iterable[Note]) -> Drawing:
    return replace(
        drawing,
        title=value_of(notes, "title"),
        description=value_of(notes, "description"),
        metadata=pairs_of(notes, "metadata"),
        face_up=value_of(notes, "face up", "face") != "reverse",
    )


def _paper(sheet: Sheet) -> Iterator[Remark]:
    """Yield a remark when there is something on a page of its own (paper space)."""
    count = sum(
        entity.dxftype() != "VIEWPORT"
        for layout in sheet.layouts
        if not layout.is_modelspace
        for entity in layout
    )
    if count:
        yield Remark("paper-space", f"Left out, because they lie in paper space: {count} entities.")
