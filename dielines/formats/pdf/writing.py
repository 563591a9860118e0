"""PDF files of drawings, a page each, at true size."""

from __future__ import annotations

import io
import math
from collections.abc import Sequence
from decimal import Decimal
from typing import Any

from ...drawing import Drawing, Layer
from ...errors import UsageError
from ..choices import Choices
from .content import FONT, content_of, layers_in
from .layers import layer_dictionary, layers_dictionary
from .texts import POINTS_PER_MM, number, text_string
from .told import DRAWING, told_of

LARGEST_SIDE = (
    14_400  #: units; viewers want no larger page (ISO 32000-1, annex C), but larger units
)


def write_pages(drawings: Sequence[Drawing], choices: Choices) -> bytes:
    """Return a PDF with a page for each of *drawings*, 1:1; the same ones give the same bytes.

    Raises UsageError where there is no drawing or a page without width or height,
    Defect for a number that is not finite.
    """
    from pikepdf import Name, ObjectStreamMode, Pdf

    if not drawings:
        raise UsageError("a PDF needs a page")
    pdf = Pdf.new()
    used = frozenset[Layer]().union(*map(layers_in, drawings))
    layers = {layer: pdf.make_indirect(layer_dictionary(layer)) for layer in Layer if layer in used}
    for drawing in drawings:
        pdf.pages.append(_page(pdf, drawing, choices, layers))
    if layers:
        pdf.Root[Name.OCProperties] = layers_dictionary(layers.values())
    _describe(pdf, drawings[0])
    content = io.BytesIO()
    # Packed streams would depend on the library that packs them.
    pdf.save(
        content,
        min_version="1.7",
        deterministic_id=True,
        compress_streams=False,
        object_stream_mode=ObjectStreamMode.disable,
    )
    return content.getvalue()


def _page(pdf: Any, drawing: Drawing, choices: Choices, layers: dict[Layer, Any]) -> Any:
    from pikepdf import Array, Dictionary, Name, Page, Stream

    width, height, unit = _size(drawing)
    content = f"/{DRAWING} /{DRAWING} DP\n".encode()
    content += content_of(drawing, choices, POINTS_PER_MM / unit)
    page = Dictionary(
        {
            "/Type": Name.Page,
            "/MediaBox": Array([0, 0, width, height]),
            "/Resources": _resources(drawing, layers),
            "/Contents": Stream(pdf, content),
        }
    )
    if unit > 1:
        page.UserUnit = unit
    return Page(pdf.make_indirect(page))


def _size(drawing: Drawing) -> tuple[Decimal, Decimal, int]:
    """Return width and height of the page, and how many points its unit is long."""
    sides = float(drawing.width), float(drawing.height)
    if not (sides[0] > 0 and sides[1] > 0):
        raise UsageError(f"a page of {drawing.width} x {drawing.height} mm cannot be drawn")
    texts = [number(side * POINTS_PER_MM) for side in sides]
    unit = max(math.ceil(max(map(float, texts)) / LARGEST_SIDE), 1)
    width, height = (Decimal(number(side * POINTS_PER_MM / unit)) for side in sides)
    return width, height, unit


def _resources(drawing: Drawing, layers: dict[Layer, Any]) -> Any:
    from pikepdf import Dictionary, Name

    font = Dictionary(
        {
            "/Type": Name.Font,
            "/Subtype": Name.Type1,
            "/BaseFont": Name.Helvetica,
            "/Encoding": Name.WinAnsiEncoding,
        }
    )
    used = layers_in(drawing)
    properties = {f"/{layer.value}": layers[layer] for layer in layers if layer in used}
    properties[f"/{DRAWING}"] = told_of(drawing)
    return Dictionary({"/Font": Dictionary({FONT: font}), "/Properties": Dictionary(properties)})


def _describe(pdf: Any, drawing: Drawing) -> None:
    """Give the file a title, and printing without fitting it to the paper; no dates."""
    from pikepdf import Dictionary, Name, String

    words = {"/Title": drawing.title, "/Subject": drawing.description}
    for key, text in words.items():
        if text:
            pdf.docinfo[Name(key)] = String(text_string(text))
    pdf.Root.Lang = String(b"en")
    pdf.Root.ViewerPreferences = Dictionary(
        {"/DisplayDocTitle": True, "/PrintScaling": Name("/None")}
    )
