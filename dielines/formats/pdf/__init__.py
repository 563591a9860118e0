"""PDF at true size: written from drawings, a page each, and read back into them."""

from __future__ import annotations

from ...drawing import Drawing
from ..choices import Choices
from ..kinds import Format
from .proving import proved_pages
from .reading import read_pages, read_pdf
from .writing import write_pages

__all__ = ["FORMAT", "proved_pages", "read_pages", "write_pages"]


def _write(drawing: Drawing, choices: Choices) -> bytes:
    return write_pages([drawing], choices)


FORMAT = Format("PDF", ".pdf", _write, read_pdf, is_for_machines=False, read_pages=read_pages)
