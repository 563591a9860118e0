"""The grain runs across the folds of the binding, or across what bends with the cover."""

from __future__ import annotations

from collections.abc import Iterator

from ...book.book import BookPart
from ...folding.folded_book import FoldedBook
from ...part import Line
from ...paths import bounds_of
from ...workshop.stock import Grain, Stock, caliper_words
from ..finding import Amount, Finding, Severity, Spot
from ..settings_that_mend import GRAFTED
from ..words import DistinctPart, and_others, distinct_parts

STIFF = 0.3  #: mm; thicker paper cracks where it is folded across its grain (m)

NAME = "grain"
WHY = (
    "The grain runs from head to tail, parallel to the spine, so that no fold of the binding goes"
    f" against it. Gussets at head and tail of a pocket always do; paper thicker than {STIFF:g} mm may"
    " crack there, which is told once. Some makers prefer otherwise; handmade paper has no grain."
)
WORST = Severity.REMARK
SOURCE = (
    "Etherington and Roberts, Bookbinding and the Conservation of Books, 'grain' (dt0053); the"
    f" thickness of {STIFF:g} mm is from memory"
)
OF_A_PAGE = "page-"  #: how the keys of pages, and of their pockets and cards, begin
CASE = {"boards", "wrap", "lining"}  #: roles whose parts lie in the case, upright as the book


def check(folded: FoldedBook) -> Iterator[Finding]:
    """Yield each part of the binding with its grain across, then pockets of stiff paper, once."""
    parts = list(distinct_parts(folded))
    for part in parts:
        against = list(_folds_against(part.entry)) if has_grain(part.entry.stock) else []
        if against or (_bends_against(part.entry) and has_grain(part.entry.stock)):
            yield _across(folded, part, len(against))
    stiff = [part for part in parts if _is_stiff_pocket(part.entry)]
    if stiff:
        yield _pockets(folded, stiff)


def has_grain(stock: Stock) -> bool:
    """Return whether the grain of any sheet of a stock is known."""
    return any(sheet.grain is not Grain.NONE for sheet in stock.sheets)


def _folds_against(entry: BookPart) -> Iterator[Line]:
    """Yield the folds of the binding that the grain of a part does not run along."""
    for line in entry.part.folds:
        if line.angle_deg and _is_of_binding(entry, line) and _way(line) != entry.part.grain:
            yield line


def _is_of_binding(entry: BookPart, line: Line) -> bool:
    """Return whether a line is a fold of the binding: of what it grafted on, or of a strip of its own."""
    if entry.part.bound is not None:
        return any(name.startswith(GRAFTED) for name in line.key.panels())
    return entry.role == "pages" and not entry.key.startswith(OF_A_PAGE)


def _way(line: Line) -> str:
    """Return along which way of its part a fold runs, more or less: "up" or "across"."""
    box = bounds_of(line.pieces)
    return "up" if box.height >= box.width else "across"


def _bends_against(entry: BookPart) -> bool:
    return entry.role in CASE and entry.part.grain != "up"


def _across(folded: FoldedBook, part: DistinctPart, folds: int) -> Finding:
    runs = "may run either way" if part.part.grain == "free" else "runs across the spine"
    what = f"against {folds} folds of the binding" if folds else "against the bend of the cover"
    return Finding(
        Severity.REMARK,
        Spot(part.key),
        f"its grain {runs}, {what}: folds against the grain crack, and the book warps"
        f"{and_others(part.number)}",
        "cut it with the grain from head to tail",
        Amount(folds, "folds"),
    )


def _is_stiff_pocket(entry: BookPart) -> bool:
    """Return whether gussets of a pocket fold stiff paper across its grain."""
    is_stiff = float(entry.stock.caliper.mm) > STIFF and has_grain(entry.stock)
    across = any(line.angle_deg and _way(line) != entry.part.grain for line in entry.part.folds)
    return is_stiff and across and bool(entry.part.mouths)


def _pockets(folded: FoldedBook, parts: list[DistinctPart]) -> Finding:
    stock = parts[0].entry.stock
    number = sum(part.number for part in parts)
    return Finding(
        Severity.REMARK,
        Spot(parts[0].key),
        f"{stock.name} is {caliper_words(stock.caliper)} thick, and the gussets of"
        f" {number} pocket{'s' if number > 1 else ''} fold it across its grain, as they have to",
        "score them deep and fold slowly, or take thinner paper",
        Amount(float(stock.caliper.mm) - STIFF),
    )
