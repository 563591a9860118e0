"""SVG file to Reading: our own files and reasonable ones from elsewhere.

Lines and circular arcs are read exactly, other curves as chords within 0.01 mm.
What cannot be cut (text, pictures) or is not drawn (hidden things, definitions)
is left out and remarked on. Clipping, style sheets and scripts are not followed.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Iterator

from ...drawing import Drawing, Group, Item, Layer
from ...errors import Fault, ForeignFileError
from ...paths import Path, Vertex, bounds_of
from ..out_of_bounds import OutOfBounds
from ..readings import Reading
from .metadata import NAMESPACE, PAIR, pair_of
from .remarks import Remarks
from .sizing import Page, page_of
from .tree import Element, parse
from .walking import Drawn, Setting, Walk, with_font

_NO_PART = "drawing"
_SMALLEST_PAGE = 0.001  #: mm


def read_svg(content: bytes, name: str) -> Reading:
    """Return what the SVG file *content* holds; *name* is for messages.

    Raises ForeignFileError for what is no SVG, unsafe to read or out of bounds.
    """
    document = parse(content, name)
    root, remarks = document.root, Remarks()
    if not document.has_namespace:
        remarks.add("no-namespace")
    walk = Walk(root, remarks, name)
    try:
        page = page_of(root, remarks)
        walk.run(root, Setting(page.matrix, with_font(root, page.measures)))
    except OutOfBounds as error:
        fault = Fault(name, 0, 0, "", error.code, error.message)
        raise ForeignFileError(walk.faults or [fault]) from error
    if walk.faults:
        raise ForeignFileError(walk.faults)
    return _reading(root, page, walk.drawn, remarks, name)


def _reading(root: Element, page: Page, drawn: list[Drawn], remarks: Remarks, name: str) -> Reading:
    left, top, width, height = _frame(page, drawn)
    parts = _by_part(drawn)
    groups = tuple(
        Group(key, things[0].naming.part_title or part, _items(things, left, top + height))
        for key, (part, things) in zip(_keys(parts), parts.items(), strict=True)
    )
    ordered = [thing for things in parts.values() for thing in things]
    for _ in (thing for thing in ordered if thing.naming.layer is None):
        remarks.add("unknown-layer")
    return Reading(
        drawing=Drawing(
            width,
            height,
            groups,
            title=root.child_text("title") or name,
            description=root.child_text("desc"),
            metadata=_metadata(root),
            face_up=root.get("data-up") != "reverse",
        ),
        kind="svg",
        unit=page.unit,
        units_per_mm=page.units_per_mm,
        source_layers=tuple(thing.naming.source for thing in ordered),
        remarks=remarks.sorted(),
        version=root.get("version"),
    )


def _frame(page: Page, drawn: list[Drawn]) -> tuple[float, float, float, float]:
    """Return left, top, width and height of the page, mm, y down."""
    if page.size is not None:
        return (0.0, 0.0, *page.size)
    box = bounds_of(thing.path for thing in drawn)
    width, height = (max(float(side), _SMALLEST_PAGE) for side in (box.width, box.height))
    return float(box.left), float(box.bottom), width, height


def _by_part(drawn: list[Drawn]) -> dict[str, list[Drawn]]:
    parts: dict[str, list[Drawn]] = {}
    for thing in drawn:
        parts.setdefault(thing.naming.part or _NO_PART, []).append(thing)
    return parts


def _items(things: list[Drawn], left: float, bottom: float) -> tuple[Item, ...]:
    return tuple(
        Item(thing.naming.layer or Layer.MARK, _upright(thing.path, left, bottom), thing.name)
        for thing in things
    )


def _upright(path: Path, left: float, bottom: float) -> Path:
    """Return *path* with y up from *bottom*; a turn to the right becomes one to the left."""
    return Path(
        tuple(
            Vertex(v.x - left, bottom - v.y, -v.bulge if v.bulge else 0.0) for v in path.vertices
        ),
        path.closed,
    )


def _keys(parts: Iterable[str]) -> Iterator[str]:
    """Yield for each of *parts* a valid XML name of its own."""
    taken: set[str] = set()
    counts: Counter[str] = Counter()
    for part in parts:
        word = re.sub(r"[^A-Za-z0-9_.-]", "_", part)
        stem = key = word if re.match(r"[A-Za-z_]", word) else f"_{word}"
        while key in taken:
            counts[stem] += 1
            key = f"{stem}-{counts[stem] + 1}"
        taken.add(key)
        yield key


def _metadata(root: Element) -> tuple[tuple[str, str], ...]:
    """Return the pairs that a file of ours carries."""
    tag = f"{{{NAMESPACE}}}{PAIR}"
    holders = [child for child in root.children if child.tag == "metadata"]
    found = (pair_of(e.attributes) for holder in holders for e in holder.walk() if e.tag == tag)
    return tuple(pair for pair in found if pair is not None)
