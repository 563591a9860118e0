"""Files that are proved before anybody gets them: written, read back, and compared."""

from __future__ import annotations

from dataclasses import dataclass

from ..drawing import Drawing
from ..errors import Defect
from .choices import Choices
from .compare import Comparison, compare
from .kinds import Format

TOLERANCE = 0.001  #: mm; a file that deviates more is a defect of ours


@dataclass(frozen=True, slots=True)
class ProvedFile:
    """A file that read back as it should; the page and the largest *deviation* in mm."""

    name: str
    content: bytes
    width: float
    height: float
    paths: int
    deviation: float
    drawing: Drawing  #: what the file was made of


def proved(name: str, drawing: Drawing, kind: Format, choices: Choices) -> ProvedFile:
    """Return the file that *kind* makes of *drawing*, read back and compared.

    Raises Defect where a path is missing, extra, or off by more than TOLERANCE.
    """
    content = kind.write(drawing, choices)
    comparison = compare(drawing, kind.read(content, name).drawing)
    if not comparison.is_equal(TOLERANCE):
        raise Defect(f"{name}: reads back differently: {difference_words(comparison)}")
    size = float(drawing.width), float(drawing.height)
    paths = len(drawing.items())
    return ProvedFile(name, content, *size, paths, comparison.largest_deviation, drawing)


def difference_words(comparison: Comparison) -> str:
    """Return in words what differs: "2 paths missing, ..., largest deviation 0.4 mm"."""
    rows = comparison.rows
    counts = {
        "missing": sum(len(row.missing) for row in rows),
        "extra": sum(len(row.extra) for row in rows),
        "open in one and closed in the other": sum(len(row.differently_closed) for row in rows),
    }
    words = [f"{n} path{'s' if n > 1 else ''} {what}" for what, n in counts.items() if n]
    words.append(f"largest deviation {comparison.largest_deviation:.6g} mm")
    if comparison.page_deviation:
        words.append(f"page {comparison.page_deviation:.6g} mm larger or smaller")
    return ", ".join(words)
