"""A part is larger than what can be cut of any sheet of its stock, lying with the grain."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache

from ...book.sheets_fit import by_how_much, part_fit, part_grain, part_size, shorter_tab
from ...folding.folded_book import FoldedBook
from ...lengths import Length, Unit
from ...workshop.fits import Fit, larger_sheet
from ...workshop.loading import typical_workshop
from ...workshop.stock import Stock
from ..finding import Advice, Amount, Finding, Severity, Spot
from ..words import DistinctPart, and_others, distinct_parts, shown

UNITS: tuple[Unit, ...] = ("in", "mm")

TURN = "find a sheet whose grain runs along its print, or say that the print has no top"

NAME = "larger than sheet"
WHY = (
    "A part has to fit a sheet of its stock, within what the machine reaches, with its grain along that"
    " of the sheet. Where the sheets are not those of your workshop file but assumed, it is a warning."
)
WORST = Severity.ERROR
SOURCE = "geometry; sheets, grain and reach are those of the workshop file"


def check(folded: FoldedBook) -> Iterator[Finding]:
    """Yield each part that fits no sheet."""
    misfits = [
        (part, fit)
        for part in distinct_parts(folded)
        if (fit := part_fit(part.entry, folded.workshop)) is not None and not fit.is_good
    ]
    tabs = {part.key: shorter_tab(folded.book, part.entry, fit) for part, fit in misfits}
    known = [tab for tab in tabs.values() if tab is not None]
    for part, fit in misfits:
        # Both end pages have the same cover tab: the shorter one serves both.
        yield _finding(folded, part, fit, min(known) if tabs[part.key] else None)


@cache
def _assumed(unit: Unit) -> frozenset[tuple[object, ...]]:
    return frozenset((stock.name, stock.sheets) for stock in typical_workshop(unit).stocks)


def is_assumed(stock: Stock) -> bool:
    """Return whether the sheets of a stock are those of the typical workshop."""
    return any((stock.name, stock.sheets) in _assumed(unit) for unit in UNITS)


def _finding(folded: FoldedBook, part: DistinctPart, fit: Fit, tab: Length | None) -> Finding:
    book, stock = folded.book, part.entry.stock
    size = part_size(part.entry).words(book.units)
    return Finding(
        Severity.WARNING if is_assumed(stock) else Severity.ERROR,
        Spot(part.key),
        f"{size} of {stock.name} fits no sheet with the grain:"
        f" {by_how_much(fit, book.units)}{and_others(part.number)}",
        ", or ".join(_ways(folded, part, tab) if fit.follows_grain else [TURN]),
        Amount(max(fit.short_across, fit.short_up).mm),
        (Advice("usual.cover_tab", tab),) if tab else (),
    )


def _ways(folded: FoldedBook, part: DistinctPart, tab: Length | None) -> list[str]:
    """Return what would help, as far as it is known."""
    book, entry = folded.book, part.entry
    reach = folded.workshop.reach_for(entry.stock)
    size, grain = part_size(entry), part_grain(entry.part)
    sheet = larger_sheet(size, grain, entry.stock, reach, book.units)
    ways = [f"make the cover tab {shown(book, tab.mm)}"] if tab else []
    ways += [f"use a sheet of {sheet.words(book.units)}"] if sheet else []
    return ways or ["make the page smaller, choose another kind of page, or find a larger sheet"]
