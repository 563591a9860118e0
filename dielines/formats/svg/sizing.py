"""The page of an SVG file: its true size and where user units lie on it."""

from __future__ import annotations

from dataclasses import dataclass

from ..out_of_bounds import MAX_COORDINATE, OutOfBounds
from .measures import Direction, Measures
from .numbers import ABSOLUTE_MM, MM_PER_PX, parse_length
from .remarks import Remarks
from .transforms import Matrix, scaling
from .tree import Element
from .viewport import ViewBox, parse_fit, parse_view_box, view_matrix

_UNEVEN = 1e-6
_SMALLEST_SIDE = 1e-6  #: mm
_SMALLEST_SCALE = 1e-9  #: mm per user unit
#: px; the size of a replaced element without any (CSS 2.1, 10.3.2), for percentages only.
_WINDOW = (300.0, 150.0)


@dataclass(frozen=True)
class Page:
    """What the outermost element says."""

    size: tuple[float, float] | None  #: mm; None when only the contents tell
    matrix: Matrix  #: user units to mm, y down
    unit: str  #: "mm", "in", ..., "px", "unitless"
    measures: Measures

    @property
    def units_per_mm(self) -> float:
        """How many user units make a millimetre across."""
        return 1 / self.matrix.a


def page_of(root: Element, remarks: Remarks) -> Page:
    """Return the page of *root*.

    Raises OutOfBounds for a page of more than a kilometre.
    """
    box = _view_box(root, remarks)
    stated = [_stated(root, name, remarks) for name in ("width", "height")]
    size = _size(stated[0], stated[1], box)
    if size is not None and not all(_SMALLEST_SIDE <= side <= MAX_COORDINATE for side in size):
        raise OutOfBounds(
            "page-out-of-range", "its page is larger than a kilometre, or too small to see"
        )
    unit = _unit(root)
    if unit in ("px", "unitless"):
        remarks.add("no-physical-size")
    if size is None:
        remarks.add("size-from-contents")
    elif stated == [None, None]:
        remarks.add("size-from-viewbox")
    return Page(size, _matrix(root, size, box, remarks), unit, _measures(size, box))


def _matrix(
    root: Element, size: tuple[float, float] | None, box: ViewBox | None, remarks: Remarks
) -> Matrix:
    if size is None or box is None:
        return scaling(MM_PER_PX, MM_PER_PX)
    matrix = view_matrix(box, *size, parse_fit(root.get("preserveAspectRatio")))
    if not all(_SMALLEST_SCALE < scale < 1 / _SMALLEST_SCALE for scale in (matrix.a, matrix.d)):
        raise OutOfBounds("number-out-of-range", "its viewBox and its size do not go together")
    if abs(matrix.a - matrix.d) > _UNEVEN * matrix.a:
        remarks.add("uneven-scale")
    return matrix


def _measures(size: tuple[float, float] | None, box: ViewBox | None) -> Measures:
    """Return what relative lengths in the file are relative to."""
    if box is not None:
        width, height = box.width, box.height
    elif size is not None:
        width, height = size[0] / MM_PER_PX, size[1] / MM_PER_PX
    else:
        width, height = _WINDOW
    return Measures(width, height, window=(width, height))


def _view_box(root: Element, remarks: Remarks) -> ViewBox | None:
    box = parse_view_box(root.get("viewBox"))
    if box is None and "viewBox" in root.attributes:
        remarks.add("bad-viewbox")
    return box


def _stated(root: Element, name: str, remarks: Remarks) -> float | None:
    """Return a side of the page, mm, or None when the file leaves it to the reader."""
    text = root.get(name).strip()
    length = parse_length(text)
    if text in ("", "auto") or (length and length.unit == "%"):
        return None
    if length is not None and length.number > 0:
        per_unit = ABSOLUTE_MM.get(length.unit)
        if per_unit is not None:
            return length.number * per_unit
        return Measures(*_WINDOW, window=_WINDOW).to_units(length, Direction.OTHER) * MM_PER_PX
    remarks.add("bad-size")
    return None


def _size(
    width: float | None, height: float | None, box: ViewBox | None
) -> tuple[float, float] | None:
    """Return the page, mm; a missing side follows from the shape of the view box."""
    if width is not None and height is not None:
        return width, height
    if box is None:
        return None
    if width is not None:
        return width, width * box.height / box.width
    if height is not None:
        return height * box.width / box.height, height
    return box.width * MM_PER_PX, box.height * MM_PER_PX


def _unit(root: Element) -> str:
    """Return the unit of the first side that is stated in one."""
    lengths = [parse_length(root.get(name)) for name in ("width", "height")]
    units = [length.unit for length in lengths if length and length.number > 0]
    return next((unit for unit in units if unit in ABSOLUTE_MM), "unitless")
