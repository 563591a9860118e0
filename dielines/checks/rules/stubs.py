"""What pages hang on is thinner at the spine than the pages are."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from ...folding.folded_book import FoldedBook
from ...folding.levels import PanelKey
from ..finding import Amount, Finding, Severity, Spot
from ..right_sizes import fine
from ..words import part_words

LEAST = 1.0  #: mm by which stubs may be thinner than pages, which give way by that much (m)

NAME = "stubs"
WHY = (
    "Where pages hang on stubs or fins, these together are as thick as the pages at their"
    " thickest; with less the pressed book is thinner at its spine, and will not shut properly."
)
WORST = Severity.REMARK
SOURCE = (
    "Cockerell, p. 61: guards equal in thickness to what is folded in, at its thickest; that"
    f" {LEAST:g} mm less do no harm is from memory"
)


def check(folded: FoldedBook) -> Iterator[Finding]:
    """Yield one remark for a book whose stubs do not make up for the bulk of its pages."""
    book, thickness = folded.book, folded.thickness
    stubs = _stubs(folded)
    if not stubs:
        return
    bulk, at_spine = thickness.thickest.pressed, thickness.at_binding.pressed
    lacking = bulk - at_spine
    if lacking <= LEAST:
        return
    sheets = lacking / len(stubs)
    yield Finding(
        Severity.REMARK,
        Spot(stubs[0][0]),
        f"pressed, the pages are {fine(book, bulk)} thick at their thickest, but with"
        f" {part_words(book, stubs[0][0])} only {fine(book, at_spine)} at the spine",
        f"line each of the {len(stubs)} stubs with paper {fine(book, sheets)} thick, or put less"
        " on the pages",
        Amount(lacking),
    )


def _stubs(folded: FoldedBook) -> Sequence[PanelKey]:
    """Return the panels that pages hang on; none where a page hangs by a tab of its own."""
    stack, joins = folded.thickness.stack, folded.book.joins
    pages = {entry.key for entry in folded.book.parts if entry.part.bound}
    if any(join.part in pages and join.onto_part != join.part for join in joins):
        return ()
    held: dict[str, dict[str, PanelKey]] = {}
    for join in joins:
        if join.onto_part in pages or stack.is_board(join.onto_part):
            held.setdefault(join.part, {})[join.onto_part] = join.part, join.panel
    found = {
        page: panel
        for targets in held.values()
        for page, panel in targets.items()
        if page in pages and len(targets) > 1
    }
    return tuple(found.values()) if pages and set(found) == pages else ()
