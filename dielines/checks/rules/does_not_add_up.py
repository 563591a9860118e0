"""The panels of a part do not add up to its cut size, or sizes differ that have to be equal."""

from __future__ import annotations

from collections.abc import Iterator

from ...folding.folded_book import FoldedBook
from ...part import FoldKey
from ...paths import magnitude
from ..adding_up import (
    NEARLY,
    Row,
    Unlike,
    folds_off_border,
    rows_that_differ,
    unlike_twins,
    unlike_wanted,
)
from ..finding import Amount, Finding, Severity, Spot
from ..flat_shapes import shapes_of
from ..words import DistinctPart, and_others, distinct_parts, line_words, panel_words, shown

NAME = "does not add up"
WHY = (
    "Along every row and column the panels add up to the cut size, scores lie where panels meet, and"
    " what has to be equal is equal: positions that were rounded one by one are not. Panels that are"
    f" a pair and differ by less than {float(NEARLY):g} mm are taken to be meant alike."
)
WORST = Severity.ERROR
SOURCE = (
    f"geometry; common practice: round panels first, then add ({float(NEARLY):g} mm from memory)"
)


def check(folded: FoldedBook) -> Iterator[Finding]:
    """Yield rows and columns that do not add up, scores off their panels, and unequal pairs."""
    for part in distinct_parts(folded):
        shapes = shapes_of(part.folded)
        yield from (_row(folded, part, row) for row in rows_that_differ(shapes))
        for panel, line, off in folds_off_border(shapes):
            yield _off_border(folded, part, panel, line, off)
        yield from (_unlike(folded, part, pair) for pair in unlike_wanted(part.part))
        yield from (_unlike(folded, part, pair) for pair in unlike_twins(part.part))


def _row(folded: FoldedBook, part: DistinctPart, row: Row) -> Finding:
    book = folded.book
    off = row.off
    more = "more" if off > 0 else "less"
    way = "across" if row.is_across else "up"
    return Finding(
        Severity.ERROR,
        Spot(part.key, row.first, row.place),
        f"the panels add up to {shown(book, row.panels)} {way} at the"
        f" {panel_words(book, part.key, row.first)}, {shown(book, abs(off))} {more} than is cut"
        f"{and_others(part.number)}",
        f"make the panels or the cut size {shown(book, abs(off))} different, so that both agree",
        Amount(abs(off)),
    )


def _off_border(
    folded: FoldedBook, part: DistinctPart, panel: str, line: FoldKey, off: float
) -> Finding:
    book = folded.book
    return Finding(
        Severity.ERROR,
        Spot(part.key, panel),
        f"the line {line_words(book, part.key, line)} lies {shown(book, off)} off the border of the"
        f" {panel_words(book, part.key, panel)}{and_others(part.number)}",
        f"move it by {shown(book, off)} to where both panels meet",
        Amount(off),
    )


def _unlike(folded: FoldedBook, part: DistinctPart, pair: Unlike) -> Finding:
    book = folded.book
    off = magnitude(pair.size - pair.wanted)
    than = f"the {panel_words(book, part.key, pair.other)}" if pair.other else "it is asked to be"
    more = "larger" if pair.size > pair.wanted else "smaller"
    return Finding(
        Severity.ERROR if pair.is_sure else Severity.WARNING,
        Spot(part.key, pair.panel),
        f"the {panel_words(book, part.key, pair.panel)} is {shown(book, off)} {more} than {than}"
        f"{and_others(part.number)}",
        f"make it {shown(book, pair.wanted)}",
        Amount(off),
    )
