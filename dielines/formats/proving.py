"""Files that are proved before anybody gets them: written, read back, and compared.

Of every drawing two files are made in each format. The *cut* file holds what a
machine acts on and nothing else; the *guide* holds every layer, for people.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from ..drawing import Drawing, Layer, only_layers
from ..errors import Defect
from .compare import Comparison, compare
from .kinds import Format, formats
from .legend import with_legend
from .look import with_true_size

TOLERANCE = 0.001  #: mm; a file that deviates more is a defect of ours

#: What a machine acts on; all else would be cut by one that cuts whatever it finds.
CUT_LAYERS = frozenset({Layer.CUT, Layer.PERFORATE, Layer.SCORE_VALLEY, Layer.SCORE_MOUNTAIN})


@dataclass(frozen=True, slots=True)
class ProvedFile:
    """A file that read back as it should; *deviation* is the largest, mm."""

    name: str
    content: bytes
    paths: int
    deviation: float


def proved_files(name: str, drawing: Drawing) -> tuple[ProvedFile, ...]:
    """Return the cut file and the guide of *drawing* in every format; raises Defect."""
    cut, guide = cut_drawing(drawing), guide_drawing(drawing)
    return tuple(
        proved(f"{name}.{purpose}{kind.suffix}", shown, write, kind)
        for kind in formats()
        for purpose, shown, write in (
            ("cut", cut, kind.write),
            ("guide", guide, kind.write_guide),
        )
    )


def cut_drawing(drawing: Drawing) -> Drawing:
    """Return what a machine acts on."""
    return with_true_size(only_layers(drawing, CUT_LAYERS))


def guide_drawing(drawing: Drawing) -> Drawing:
    """Return every layer, with a legend beside it."""
    return with_true_size(with_legend(drawing))


def proved(
    name: str, drawing: Drawing, write: Callable[[Drawing], bytes], kind: Format
) -> ProvedFile:
    """Return the file that *write* makes of *drawing*, read back by *kind* and compared.

    Raises Defect where a path is missing, extra, or off by more than TOLERANCE.
    """
    content = write(drawing)
    comparison = compare(drawing, kind.read(content, name).drawing)
    if not comparison.is_equal(TOLERANCE):
        raise Defect(f"{name}: reads back differently: {difference_words(comparison)}")
    return ProvedFile(name, content, len(drawing.items()), comparison.largest_deviation)


def difference_words(comparison: Comparison) -> str:
    """Return in words what differs: "2 paths missing, ..., largest deviation 0.4 mm"."""
    counts = {
        "missing": sum(len(row.missing) for row in comparison.rows),
        "extra": sum(len(row.extra) for row in comparison.rows),
        "open in one and closed in the other": sum(
            len(row.differently_closed) for row in comparison.rows
        ),
    }
    words = [f"{n} path{'s' if n > 1 else ''} {what}" for what, n in counts.items() if n]
    words.append(f"largest deviation {comparison.largest_deviation:.6g} mm")
    if comparison.page_deviation:
        words.append(f"page {comparison.page_deviation:.6g} mm larger or smaller")
    return ", ".join(words)
