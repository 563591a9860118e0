"""The shopping list as text for people, and as data for programs."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from textwrap import wrap

from ..lengths import Unit
from .sheets_text import joined
from .shopping import Need, Shopping, tape_words

SHOPPING_LIST = "shopping-list.txt"
WIDTH = 100
_ROW = "{:<52} {:>11} {:>9} {:>11}  {}"


def shopping_text(title: str, shopping: Shopping, units: Unit) -> str:
    """Return the text of ``shopping-list.txt``."""
    copies = f", for {shopping.copies} copies" if shopping.copies > 1 else ""
    lines = [*wrap(f"{title}: shopping list{copies}", WIDTH), ""]
    lines += [_ROW.format("", "", "each", shopping.currency or "price", "").rstrip()]
    for need in shopping.needs:
        lines += _need_lines(need, units)
    return "\n".join([*lines, "", *_sums(shopping), *_left_out(shopping)]) + "\n"


def _need_lines(need: Need, units: Unit) -> Iterator[str]:
    first, *others = wrap(need.what, 52)
    remark = "at hand" if need.is_at_hand else _used(need, units)
    yield _ROW.format(first, _count(need), _money(need.each), _money(need.price), remark).rstrip()
    yield from (f"  {other}" for other in others)


def _count(need: Need) -> str:
    if need.count is None:
        return f"? {need.unit}s"
    return f"{need.count} {need.unit}{'' if need.count == 1 else 's'}"


def _used(need: Need, units: Unit) -> str:
    """Return how much tape is used."""
    return f"{tape_words(need.length, units)} used" if need.length is not None else ""


def _money(price: Decimal | None) -> str:
    return "?" if price is None else f"{price:.2f}"


def _sums(shopping: Shopping) -> Iterator[str]:
    currency = f" {shopping.currency}" if shopping.currency else ""
    if len(shopping.unpriced) == len(shopping.needs):
        yield from wrap(
            "Nothing has a price; the workshop file can tell the price of a sheet and of a roll.",
            WIDTH,
        )
        return
    yield from wrap(
        f"Together {shopping.price:.2f}{currency}. {_used_words(shopping)}".rstrip(), WIDTH
    )
    if shopping.unpriced:
        names = "; ".join(need.what for need in shopping.unpriced)
        yield from wrap(f"Not counted, without a price: {names}.", WIDTH)


def _used_words(shopping: Shopping) -> str:
    """Return what the sheets cost and the part of the rolls that is used; nothing where that is all."""
    used, copy = (
        f"{price:.2f} {shopping.currency}".rstrip()
        for price in (shopping.price_of_used, shopping.price_of_a_copy)
    )
    if shopping.copies > 1:
        return f"What is used up of it costs {used}, which is {copy} a copy."
    return f"What is used up of it costs {used}." if shopping.price_of_used < shopping.price else ""


def _left_out(shopping: Shopping) -> Iterator[str]:
    """Yield for what no sheet is on the list, as none is large enough."""
    if shopping.left_out:
        names = "; ".join(f"{stock} for {joined(letters)}" for stock, letters in shopping.left_out)
        yield ""
        yield from wrap(f"Not on this list, as no sheet is large enough: {names}.", WIDTH)


def shopping_data(shopping: Shopping) -> dict[str, object]:
    """Return *shopping* for JSON; prices as texts in its currency."""
    return {
        "copies": shopping.copies,
        "currency": shopping.currency,
        "price": f"{shopping.price:.2f}",
        "price_of_used": f"{shopping.price_of_used:.2f}",
        "price_of_a_copy": f"{shopping.price_of_a_copy:.2f}",
        "left_out": {stock: list(letters) for stock, letters in shopping.left_out},
        "needs": [_need_data(need) for need in shopping.needs],
    }


def _need_data(need: Need) -> dict[str, object]:
    return {
        "what": need.what,
        "unit": need.unit,
        "count": need.count,
        "used": None if need.used is None else round(float(need.used), 6),
        "each": None if need.each is None else str(need.each),
        "price": None if need.price is None else f"{need.price:.2f}",
        "is_at_hand": need.is_at_hand,
        "length": None if need.length is None else round(float(need.length.mm), 6),
    }
