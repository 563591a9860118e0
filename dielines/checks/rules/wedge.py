"""The book is thicker at its spine than at its fore-edge, or gapes at the fore-edge."""

from __future__ import annotations

import math
from collections.abc import Iterator

from ...folding.folded_book import FoldedBook
from ..finding import Amount, Finding, Severity, Spot
from ..words import shown

#: mm by which spine and fore-edge may differ before it is worth a word (m): about a board
LEAST = 2.5

NAME = "wedge"
WHY = (
    "Channels keep the pages apart at the spine only. A book that holds less than its channels"
    " have room for closes to a wedge; one that holds more gapes at the fore-edge."
)
WORST = Severity.REMARK
SOURCE = (
    "geometry: the thickest column of paper, tape and contents in the outer half less the pages upright at the"
    f" spine; spoken of from {LEAST:g} mm on (from memory)"
)


def check(folded: FoldedBook) -> Iterator[Finding]:
    """Yield one remark where the covers do not lie parallel."""
    book, thickness = folded.book, folded.thickness
    gape = thickness.gape
    if not thickness.stack.boards or abs(gape) < LEAST:
        return
    whole = thickness.columns.whole
    angle = math.degrees(math.atan2(abs(gape), whole.right - max(whole.left, 0.0)))
    pages = len(book.request.pages)
    way = (
        "gapes: it is thicker there by" if gape > 0 else "closes to a wedge: it is thinner there by"
    )
    yield Finding(
        Severity.REMARK,
        Spot(),
        f"at the fore-edge the book {way} {shown(book, abs(gape))} than at its spine, where the"
        f" channels stand {shown(book, thickness.at_binding.upright)}; the covers lean"
        f" {angle:.0f} degrees",
        _remedy(book_gape=gape, share=shown(book, abs(gape) / pages)),
        Amount(abs(gape)),
    )


def _remedy(book_gape: float, share: str) -> str:
    if book_gape > 0:
        return f"make each channel {share} wider, or put less into each page"
    return f"contents of {share} on each page, or channels narrower by that, would make it level"
