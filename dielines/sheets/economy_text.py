"""Advice on paper economy as text for people, and as data for programs."""

from __future__ import annotations

from collections.abc import Sequence
from textwrap import wrap

from ..lengths import Length, Unit, show
from .economy import Saving
from .forcing import Forcing
from .layout import StockLayout
from .sheets_text import amount, money

WIDTH = 100
_ROW = "  {:<48} {:>8} {:>7} {:>9}  {}"


def economy_lines(
    savings: Sequence[Saving],
    forcing: Sequence[tuple[StockLayout, Forcing]],
    units: Unit,
    currency: str,
) -> list[str]:
    """Return which part forces the last sheet of each stock, and what would save sheets."""
    lines = ["Paper economy", ""]
    for stock, part in forcing:
        lines += wrap(_forcing_words(stock, part, units), WIDTH, subsequent_indent="  ")
    if not savings:
        return [*lines, *wrap("No single small change that was tried would save a sheet.", WIDTH)]
    lines += wrap(
        "One of these alone would save paper; the book still holds. Nothing is changed.", WIDTH
    )
    lines.append(
        _ROW.format("change", "sheets", "saves", currency or "", "as you type it").rstrip()
    )
    for saving in savings:
        lines += _saving_lines(saving)
    return lines


def _forcing_words(stock: StockLayout, forcing: Forcing, units: Unit) -> str:
    one = forcing.part
    words = f"{stock.stock.name}: {one.letter} ({one.title}) forces the last sheet"
    ways = [
        f"{show(by, units)} {way}"
        for by, way in ((forcing.narrower, "narrower"), (forcing.lower, "lower"))
        if by is not None
    ]
    if not ways:
        return f"{words}: with one of them fewer, one sheet fewer would do."
    return f"{words}: one sheet fewer would do if it were {' or '.join(ways)}."


def _saving_lines(saving: Saving) -> list[str]:
    first, *others = wrap(saving.change.words, 48)
    price = f"{amount(saving.price_saved):.2f}" if saving.price_saved else ""
    sheets = f"{saving.before}->{saving.after}"
    row = _ROW.format(first, sheets, saving.saved, price, saving.change.typed).rstrip()
    return [row, *(f"    {other}" for other in others)]


def economy_data(
    savings: Sequence[Saving], forcing: Sequence[tuple[StockLayout, Forcing]], currency: str
) -> dict[str, object]:
    """Return the same for JSON; lengths in mm."""
    return {
        "forcing": [
            {
                "stock": stock.stock.name,
                "letter": part.part.letter,
                "narrower": _mm(part.narrower),
                "lower": _mm(part.lower),
            }
            for stock, part in forcing
        ],
        "savings": [
            {
                "change": saving.change.words,
                "typed": saving.change.typed,
                "before": saving.before,
                "after": saving.after,
                "saves": money(saving.price_saved, currency) if saving.price_saved else None,
                "stocks": list(saving.stocks),
            }
            for saving in savings
        ],
    }


def _mm(length: Length | None) -> float | None:
    return None if length is None else round(float(length.mm), 6)
