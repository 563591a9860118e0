"""PDF files, ours and reasonable ones from elsewhere, read as drawings in millimetres.

Lines are read exactly, arcs as the arcs that their curves stand for, and other
curves as chords within 0.01 mm. What cannot be cut (texts, pictures) or is not
shown (hidden layers) is left out and remarked on. Clipping is not followed, and
annotations are not read.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from typing import Any, NamedTuple

from ...drawing import Caption, Drawing, Group, Item
from ..out_of_bounds import MAX_COORDINATE, OutOfBounds
from ..readings import Reading
from ..svg.transforms import IDENTITY, Matrix, after
from .bounds import Allowance
from .layers import layer_from
from .opening import content_of_page, with_pages
from .remarks import remarks_on
from .texts import POINTS_PER_MM
from .told import told_by
from .walking import Found, Layers, Marks, Setting, Walk

_NO_PART = "drawing"
_XML_NAME = re.compile(r"[A-Za-z_][\w.-]{0,200}", re.ASCII)
_SMALLEST_PAGE = 0.001  #: mm


def read_pdf(content: bytes, name: str) -> Reading:
    """Return what the first page of the PDF file *content* holds; *name* is for messages.

    Raises ForeignFileError for what is no PDF, locked, damaged or out of bounds.
    """

    def first_of(pdf: Any, pages: list[Any], allowance: Allowance) -> Reading:
        (reading,) = _readings(pdf, pages[:1], name, allowance)
        others = remarks_on(Counter({"several-pages": len(pages)} if len(pages) > 1 else {}))
        return replace(reading, remarks=(*others, *reading.remarks))

    return with_pages(content, name, first_of, Allowance())


def read_pages(
    content: bytes, name: str, allowance: Allowance | None = None
) -> tuple[Reading, ...]:
    """Return what each page of the PDF file *content* holds; raises ForeignFileError.

    All pages together may take no more than the *allowance*, which is by default
    that of a stranger's file.
    """

    def each_of(pdf: Any, pages: list[Any], left: Allowance) -> tuple[Reading, ...]:
        return tuple(_readings(pdf, pages, name, left))

    return with_pages(content, name, each_of, allowance or Allowance())


def _readings(pdf: Any, pages: Sequence[Any], name: str, allowance: Allowance) -> Iterator[Reading]:
    layers, version = _layers(pdf), str(pdf.pdf_version)
    for page in pages:
        yield _reading(page, Walk(layers, allowance), name, version)


def _layers(pdf: Any) -> Layers:
    hidden = _hidden(pdf.Root.get("/OCProperties"))
    return Layers(layer_from, lambda group: group.objgen in hidden)


def _hidden(properties: Any) -> frozenset[tuple[int, int]]:
    """Return the numbers of the layers that are hidden when the file is opened."""
    usual = None if properties is None else properties.get("/D")
    if usual is None:
        return frozenset()
    shown, off = (_numbers_of(usual.get(key)) for key in ("/ON", "/OFF"))
    if usual.get("/BaseState") == "/OFF":
        return _numbers_of(properties.get("/OCGs")) - shown
    return off


def _numbers_of(groups: Any) -> frozenset[tuple[int, int]]:
    return frozenset(() if groups is None else (group.objgen for group in groups))


class _Page(NamedTuple):
    """Where the units of a page lie, and how large it is shown, mm."""

    matrix: Matrix
    width: float
    height: float
    units_per_mm: float
    is_turned: bool


def _page_of(page: Any) -> _Page:
    """Return the page as it is shown: cut to its crop box, turned, in its own unit."""
    left, bottom, right, top = _box(page)
    unit = float(page.obj.get("/UserUnit", 1)) / POINTS_PER_MM
    turn = int(page.obj.get("/Rotate", 0)) % 360
    width, height = ((far - near) * unit for near, far in ((left, right), (bottom, top)))
    if not all(_SMALLEST_PAGE <= side <= MAX_COORDINATE for side in (width, height)):
        raise OutOfBounds("bad-page", "a page has no size that can be used")
    turns = {
        90: Matrix(0, -1, 1, 0, 0, width),
        180: Matrix(-1, 0, 0, -1, width, height),
        270: Matrix(0, 1, -1, 0, height, 0),
    }
    upright = Matrix(unit, 0, 0, unit, -left * unit, -bottom * unit)
    matrix = after(turns.get(turn, IDENTITY), upright)
    sides = (height, width) if turn in (90, 270) else (width, height)
    return _Page(matrix, *sides, 1 / unit, turn in turns)


def _box(page: Any) -> tuple[float, float, float, float]:
    """Return left, bottom, right and top of what is shown of *page*, in its units."""
    media, crop = ([float(side) for side in box] for box in (page.mediabox, page.cropbox))
    boxes = [(*map(min, b[:2], b[2:4]), *map(max, b[:2], b[2:4])) for b in (media, crop)]
    low, high = (list(zip(*boxes, strict=True))[i : i + 2] for i in (0, 2))
    (left, bottom), (right, top) = (max(x) for x in low), (min(x) for x in high)
    return left, bottom, right, top


def _reading(page: Any, walk: Walk, name: str, version: str) -> Reading:
    shown, resources = _page_of(page), page.obj.get("/Resources")
    content = content_of_page(page, walk.allowance)
    walk.run(content, Setting(resources, shown.matrix, [Marks()]))
    told = told_by(resources)
    parts = _by_part(walk.found, told.parts)
    walk.counts["turned-page"] += shown.is_turned
    items = [f for things in parts.values() for f in things if isinstance(f.thing, Item)]
    walk.counts["unknown-layer"] += sum(found.source_layer.layer is None for found in items)
    return Reading(
        drawing=Drawing(
            shown.width,
            shown.height,
            tuple(_group(key, told.parts.get(key, ""), found) for key, found in parts.items()),
            told.title or name,
            told.description,
            told.metadata,
            told.is_face_up,
        ),
        kind="pdf",
        unit="pt",
        units_per_mm=shown.units_per_mm,
        source_layers=tuple(found.source_layer.name for found in items),
        remarks=remarks_on(walk.counts),
        version=version,
    )


def _by_part(found: Iterable[Found], titles: Iterable[str]) -> dict[str, list[Found]]:
    parts: dict[str, list[Found]] = {key: [] for key in titles}
    for thing in found:
        key = thing.part if _XML_NAME.fullmatch(thing.part) else _NO_PART
        parts.setdefault(key, []).append(thing)
    return parts


def _group(key: str, title: str, found: Sequence[Found]) -> Group:
    things = [each.thing for each in found]
    items = tuple(thing for thing in things if isinstance(thing, Item))
    return Group(key, title, items, tuple(t for t in things if isinstance(t, Caption)))
