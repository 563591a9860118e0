"""What is in a file: its size, its layers, and whether its unit can be trusted.

Every file can be misread by a fixed ratio. Evidence that one was: what the
file itself says about its true size (only ours do), a sheet or a check square
that has a usual size only after the ratio is taken out, or no unit at all.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from enum import Enum

from ..drawing import Drawing, Item, Layer
from ..paths import Bounds, bounds_of, length_of, segment_length
from .misreadings import MISREADINGS, Misreading, misreading_of
from .readings import Reading, Remark

TRUE_SIZE = "size-mm"  #: key in a drawing's metadata: true extent of its paths, "W x H" in mm

#: Usual sheets, mm, the shorter side first: ISO 216; ASME Y14.1 A and B; 12 x 12 and
#: 12 x 24 in are common practice with no source.
SHEETS: Mapping[str, tuple[float, float]] = {
    "A3": (297.0, 420.0),
    "A4": (210.0, 297.0),
    "A5": (148.0, 210.0),
    "letter": (215.9, 279.4),
    "tabloid": (279.4, 431.8),
    "12 x 12 in": (304.8, 304.8),
    "12 x 24 in": (304.8, 609.6),
}
CHECK_SQUARES: Mapping[str, float] = {"1 in": 25.4, "25 mm": 25.0}  #: mm

_SHARE, _LEAST = 2e-4, 0.02  # how far off a size may be (share, mm) and still be the usual one
_PROOF_SHARE = 1e-4
_MOST_SQUARES = 50
_NO_UNIT = "no-physical-size"  # a remark of both readers


class Evidence(Enum):
    """What speaks for a wrong unit."""

    TRUE_SIZE = "true size"  # the file says how large it is meant to be: certain
    SHEET = "sheet"  # page or contents would be a usual sheet: possible
    CHECK_SQUARE = "check square"  # a square would be one of ours: possible
    NO_UNIT = "no unit"  # the file tells none


@dataclass(frozen=True, slots=True)
class Suspicion:
    """A reason to doubt the unit of a file; *misreading* is None where the ratio has no name."""

    evidence: Evidence
    text: str  #: a sentence for people
    factor: float = 1.0  #: how many times too large the file reads
    misreading: Misreading | None = None

    @property
    def is_certain(self) -> bool:
        """Whether it is more than a guess."""
        return self.evidence is Evidence.TRUE_SIZE


@dataclass(frozen=True, slots=True)
class LayerReport:
    """What lies on one layer of the file; length in mm."""

    layer: Layer
    source_layer: str  #: its name in the file
    paths: int
    closed: int
    length: float

    @property
    def open(self) -> int:
        """How many paths are open."""
        return self.paths - self.closed


@dataclass(frozen=True, slots=True)
class Report:
    """What is in a file; lengths in mm."""

    page: tuple[float, float]
    contents: Bounds
    rows: tuple[LayerReport, ...]
    suspicions: tuple[Suspicion, ...]
    remarks: tuple[Remark, ...]
    unit: str
    version: str
    is_size_proved: bool  #: the file says its true size, and has it


def look(reading: Reading) -> Report:
    """Return the sizes, layers and lengths in a file, and why its unit may be wrong."""
    drawing = reading.drawing
    contents = bounds_of(item.path for item in drawing.items())
    ratio = _true_ratio(drawing, contents)
    is_proved = ratio is not None and abs(ratio - 1) <= _PROOF_SHARE
    return Report(
        (drawing.width, drawing.height),
        contents,
        _rows(reading),
        () if is_proved else tuple(_suspicions(reading, contents, ratio)),
        reading.remarks,
        reading.unit,
        reading.version,
        is_proved,
    )


def with_true_size(drawing: Drawing) -> Drawing:
    """Return *drawing* with the extent of its paths in its metadata.

    Any program may then misread the file: the true size goes with it.

    >>> from dielines.drawing import Group
    >>> from dielines.paths import rectangle
    >>> item = Item(Layer.CUT, rectangle(5, 5, 128.825, 15))
    >>> with_true_size(Drawing(200, 100, (Group("page", "", (item,)),))).metadata
    (('size-mm', '123.825 x 10'),)
    """
    box = bounds_of(item.path for item in drawing.items())
    size = f"{float(box.width):.9g} x {float(box.height):.9g}"
    others = tuple(pair for pair in drawing.metadata if pair[0] != TRUE_SIZE)
    return replace(drawing, metadata=(*others, (TRUE_SIZE, size)))


def _rows(reading: Reading) -> tuple[LayerReport, ...]:
    layers: dict[tuple[Layer, str], list[Item]] = {}
    items = reading.drawing.items()
    names = reading.source_layers or tuple(item.layer.value for item in items)
    for item, name in zip(items, names, strict=True):
        layers.setdefault((item.layer, name), []).append(item)
    return tuple(_row(*key, found) for key, found in layers.items())


def _row(layer: Layer, name: str, items: list[Item]) -> LayerReport:
    closed = sum(item.path.closed for item in items)
    length = sum(length_of(item.path) for item in items)
    return LayerReport(layer, name, len(items), closed, float(length))


def _suspicions(reading: Reading, contents: Bounds, ratio: float | None) -> Iterator[Suspicion]:
    if ratio is not None:
        yield _of_true_size(ratio)
    else:
        yield from _of_sheets(reading.drawing, contents)
        yield from _of_squares(reading.drawing.items())
    if _NO_UNIT in reading.remark_codes():
        text = "The file tells no unit; whoever reads it has to guess."
        yield Suspicion(Evidence.NO_UNIT, text)


def _true_ratio(drawing: Drawing, contents: Bounds) -> float | None:
    """Return how many times too large the contents are by the file's own word, or None."""
    word = dict(drawing.metadata).get(TRUE_SIZE, "")
    match = re.fullmatch(r"(\d{1,9}(?:\.\d{1,9})?) x (\d{1,9}(?:\.\d{1,9})?)", word)
    sides = (float(contents.width), float(contents.height))
    if match is None:
        return None
    ratios = [side / float(n) for side, n in zip(sides, match.groups(), strict=True) if float(n)]
    if not ratios or max(ratios) > min(ratios) * (1 + _PROOF_SHARE):
        return None
    return ratios[0] or None


def _of_true_size(ratio: float) -> Suspicion:
    kind = misreading_of(ratio)
    why = f": {kind}" if kind else ""
    text = f"The file reads {ratio:.6g} times as large as it says that it is{why}."
    return Suspicion(Evidence.TRUE_SIZE, text, ratio, kind)


def _of_sheets(drawing: Drawing, contents: Bounds) -> Iterator[Suspicion]:
    """Yield the misreadings without which page or contents would be a usual sheet."""
    sizes = {
        "page": (drawing.width, drawing.height),
        "drawing": (float(contents.width), float(contents.height)),
    }
    if any(sheet_of(*size) for size in sizes.values()):
        return
    for what, (width, height) in sizes.items():
        for kind in MISREADINGS:
            factor = float(kind.factor)
            if sheet := sheet_of(width / factor, height / factor):
                text = f"The {what} would be of size {sheet} but for {kind}."
                yield Suspicion(Evidence.SHEET, text, factor, kind)


def sheet_of(width: float, height: float) -> str:
    """Return the name of the usual sheet of that size (mm), either way round, or nothing.

    >>> sheet_of(297, 210), sheet_of(304.8, 304.8), sheet_of(406.4, 406.4)
    ('A4', '12 x 12 in', '')
    """
    sides = sorted((width, height))
    for name, usual in SHEETS.items():
        if all(_is_about(a, b) for a, b in zip(sides, usual, strict=True)):
            return name
    return ""


def _is_about(size: float, usual: float) -> bool:
    return abs(size - usual) <= max(_SHARE * usual, _LEAST)


def _of_squares(items: tuple[Item, ...]) -> Iterator[Suspicion]:
    """Yield the misreadings without which a square among the marks would be a check square."""
    sides = sorted({round(side, 3) for item in items for side in _square_side(item)})
    if any(_is_about(side, usual) for side in sides for usual in CHECK_SQUARES.values()):
        return
    for side in sides[:_MOST_SQUARES]:
        for kind in MISREADINGS:
            for name, usual in CHECK_SQUARES.items():
                if _is_about(side / float(kind.factor), usual):
                    text = f"A square of {side:.6g} mm would be of {name} but for {kind}."
                    yield Suspicion(Evidence.CHECK_SQUARE, text, float(kind.factor), kind)


def _square_side(item: Item) -> Iterator[float]:
    """Yield the side of a path that is an upright square among marks and labels."""
    path = item.path
    if item.layer not in (Layer.MARK, Layer.LABEL) or not path.closed or len(path.vertices) != 4:
        return
    box = bounds_of([path])
    sides = [segment_length(segment) for segment in path.segments()]
    if all(abs(side - box.width) < _LEAST and abs(side - box.height) < _LEAST for side in sides):
        yield float(box.width)
