"""A PDF of an SVG file at true size, to print."""

from __future__ import annotations

from typing import Any

from .cairo import surfaces

#: The same drawing shall give the same bytes, so the file does not say when it was made.
DATE = "2000-01-01T00:00:00Z"


def write_pdf(svg: str) -> bytes:
    """Return *svg* as a PDF of one page, 1:1; the same text gives the same bytes.

    *svg* is one that write_svg made; nothing is fetched for it. Raises
    MissingLibrary where cairo is missing.
    """
    pdf_surface: Any = surfaces().PDFSurface

    class DatelessSurface(pdf_surface):  # type: ignore[misc]
        """A surface that does not look at the clock."""

        surface_class = staticmethod(_dateless)

    pdf: bytes = DatelessSurface.convert(bytestring=svg.encode("utf-8"))
    return pdf


def _dateless(output: Any, width: float, height: float) -> Any:
    import cairocffi  # type: ignore[import-untyped]

    page = cairocffi.PDFSurface(output, width, height)
    page.set_metadata(cairocffi.PDF_METADATA_CREATE_DATE, DATE)
    return page
