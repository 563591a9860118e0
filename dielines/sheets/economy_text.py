"""Advice on paper economy as text for people, and as data for programs."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from decimal import Decimal
from textwrap import wrap

from ..lengths import Length, Unit, show
from .economy import Saving
from .forcing import Forcing
from .layout import StockLayout
from .other_sheets import OtherSheet
from .rooms import Room
from .sheets_text import sheet_words

WIDTH = 100
CENTS = Decimal("0.01")
_ROW = "  {:<43} {:>12} {:>20} {:>20}"
_WORDS = 43  #: characters of a change on one line


def economy_lines(
    savings: Sequence[Saving],
    forcing: Sequence[tuple[StockLayout, Forcing]],
    others: Sequence[OtherSheet],
    units: Unit,
    currency: str,
) -> list[str]:
    """Return which part forces the last sheet of each stock, and what would save sheets."""
    lines = ["Paper economy", ""]
    for stock, part in forcing:
        lines += _wrapped(_forcing_words(stock, part, units))
    lines += _savings_lines(savings, currency)
    for other in others:
        lines += _wrapped(_other_words(other, units, currency))
    return lines


def _wrapped(words: str) -> list[str]:
    return wrap(words, WIDTH, subsequent_indent="  ")


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
    all_of = "each of them" if one.count > 1 else "it"
    return f"{words}: one sheet fewer would do if {all_of} were {' or '.join(ways)}."


def _savings_lines(savings: Sequence[Saving], currency: str) -> Iterator[str]:
    if not savings:
        yield from _wrapped("No single small change that was tried would save a sheet.")
        return
    yield from _wrapped(
        "One of these alone would save paper, and the book still holds. Nothing is changed."
    )
    first = savings[0]
    has_prices = first.cost_before is not None
    head = _ROW.format(
        "change",
        "sheets",
        currency or "price" if has_prices else "",
        "for one copy" if has_prices and first.copies > 1 else "",
    )
    yield head.rstrip()
    for saving in savings:
        yield from _saving_lines(saving)


def _saving_lines(saving: Saving) -> Iterator[str]:
    first, *more = wrap(saving.change.words, _WORDS)
    sheets = f"{saving.before}->{saving.after}"
    prices = "" if saving.cost_before is None else _arrow(saving, 1)
    each = _arrow(saving, saving.copies) if prices and saving.copies > 1 else ""
    yield _ROW.format(first, sheets, prices, each).rstrip()
    for words in more:
        yield f"  {words}"
    yield from wrap(saving.change.typed, WIDTH, initial_indent=" " * 6, subsequent_indent=" " * 8)


def _arrow(saving: Saving, copies: int) -> str:
    before, after = _costs(saving, copies)
    return f"{before}->{after}"


def _costs(saving: Saving, copies: int) -> tuple[Decimal, Decimal]:
    """Return what so many copies' share of the sheets costs before and after, in hundredths."""
    before, after = saving.cost_before or Decimal(0), saving.cost_after or Decimal(0)
    return (before / copies).quantize(CENTS), (after / copies).quantize(CENTS)


def _other_words(other: OtherSheet, units: Unit, currency: str) -> str:
    less = f"{float(other.paper_saved):.0%} less paper"
    plural = "sheets" if other.count > 1 else "sheet"
    words = (
        f"{other.stock.stock.name}: {other.count} {plural} of {sheet_words(other.size, units)}"
        f" would do in place of {_sheets_now(other.stock, units)}, {less}; no price is known"
    )
    if other.pays_below is None:
        return f"{words}."
    price = f"{other.pays_below.quantize(CENTS)} {currency}".strip()
    return f"{words}, it pays below {price} a sheet."


def _sheets_now(stock: StockLayout, units: Unit) -> str:
    counted: dict[Room, int] = {}
    for sheet in stock.sheets:
        counted[sheet.room] = counted.get(sheet.room, 0) + sheet.times
    return " and ".join(
        f"{count} of {sheet_words(room.sheet.size, units)}" for room, count in counted.items()
    )


def economy_data(
    savings: Sequence[Saving],
    forcing: Sequence[tuple[StockLayout, Forcing]],
    others: Sequence[OtherSheet],
    currency: str,
) -> dict[str, object]:
    """Return the same for JSON; lengths in mm, prices in *currency* as text."""
    return {
        "currency": currency,
        "forcing": [_forcing_data(stock, part) for stock, part in forcing],
        "savings": [_saving_data(saving) for saving in savings],
        "other_sheets": [_other_data(other) for other in others],
    }


def _forcing_data(stock: StockLayout, forcing: Forcing) -> dict[str, object]:
    return {
        "stock": stock.stock.name,
        "letter": forcing.part.letter,
        "narrower": _mm(forcing.narrower),
        "lower": _mm(forcing.lower),
    }


def _saving_data(saving: Saving) -> dict[str, object]:
    data: dict[str, object] = {
        "change": saving.change.words,
        "typed": saving.change.typed,
        "setting": saving.change.setting or None,
        "before": saving.before,
        "after": saving.after,
        "price_before": None,
        "price_after": None,
        "price_before_of_a_copy": None,
        "price_after_of_a_copy": None,
        "stocks": list(saving.stocks),
    }
    if saving.cost_before is not None:
        for end, copies in (("", 1), ("_of_a_copy", saving.copies)):
            before, after = _costs(saving, copies)
            data |= {f"price_before{end}": str(before), f"price_after{end}": str(after)}
    return data


def _other_data(other: OtherSheet) -> dict[str, object]:
    pays = other.pays_below
    return {
        "stock": other.stock.stock.name,
        "across": _mm(other.size.across),
        "up": _mm(other.size.up),
        "before": other.stock.count,
        "after": other.count,
        "paper_saved": round(float(other.paper_saved), 4),
        "pays_below": None if pays is None else str(pays.quantize(CENTS)),
    }


def _mm(length: Length | None) -> float | None:
    return None if length is None else round(float(length.mm), 6)
