"""Pictures and prints of the guide beside the files of a book: PNG to look at, PDF at true size."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from enum import Enum

from ..formats.proving import ProvedFile
from ..machine_files import GUIDE as CHOICES
from .outputs import Outputs

GUIDE = ".guide.svg"
PNG_WIDTH = 2000  #: pixels, enough to read the names of parts


class Preview(Enum):
    """What can be made of the guide."""

    PNG = "png"
    PDF = "pdf"


def with_previews(outputs: Outputs, kinds: Iterable[Preview]) -> Outputs:
    """Return *outputs* with pictures of its guide; raises MissingLibrary where PNG lacks cairo."""
    wanted = list(dict.fromkeys(kinds))
    guides = [file for file in outputs.drawings if file.name.endswith(GUIDE)]
    made = {
        file.name.removesuffix("svg") + kind.value: _preview(file, kind)
        for file in guides
        for kind in wanted
    }
    return replace(outputs, texts={**outputs.texts, **made})


def _preview(guide: ProvedFile, kind: Preview) -> bytes:
    if kind is Preview.PDF:
        from ..formats.pdf import proved_pages

        return proved_pages(guide.name, [guide.drawing], CHOICES)
    from ..formats.png import write_png

    return write_png(guide.content.decode(), PNG_WIDTH)
