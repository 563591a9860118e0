"""PDF files of several pages that are proved before anybody gets them."""

from __future__ import annotations

from collections.abc import Sequence

from ...drawing import Drawing
from ...errors import Defect
from ..choices import Choices
from ..compare import compare
from ..proving import TOLERANCE, difference_words
from .bounds import for_ours
from .reading import read_pages
from .writing import write_pages


def proved_pages(name: str, drawings: Sequence[Drawing], choices: Choices) -> bytes:
    """Return the PDF of *drawings*, a page each, once every page has read back as it should.

    Raises Defect where a path is missing, extra, or off by more than TOLERANCE, and
    what write_pages raises.
    """
    content = write_pages(drawings, choices)
    readings = read_pages(content, name, for_ours(content))
    if len(readings) != len(drawings):
        raise Defect(f"{name}: {len(readings)} pages in place of {len(drawings)}")
    for number, (drawing, reading) in enumerate(zip(drawings, readings, strict=True), 1):
        comparison = compare(drawing, reading.drawing)
        if not comparison.is_equal(TOLERANCE):
            words = difference_words(comparison)
            raise Defect(f"{name}, page {number}: reads back differently: {words}")
    return content
