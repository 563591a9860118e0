"""The sheets of a book as tables, lists, numbers and texts, for programs."""

from __future__ import annotations

from decimal import Decimal

from ..book.book import Book
from ..lengths import Length
from .layout import BookLayout, PlacedPart, SheetLayout, StockLayout
from .prices import prices_of
from .sheets_text import is_proved, least_cost, least_sheets


def sheets_data(book: Book, layout: BookLayout, currency: str) -> dict[str, object]:
    """Return *layout* for JSON; sizes in mm, prices in *currency*."""
    return {
        "title": book.title,
        "copies": book.request.copies,
        "spares": book.request.spares,
        "by": layout.wish.value,
        "currency": currency,
        "stocks": [_stock(stock) for stock in layout.stocks],
    }


def _stock(stock: StockLayout) -> dict[str, object]:
    is_money = prices_of(stock.rooms).is_money
    return {
        "stock": stock.stock.name,
        "by": stock.terms.by.value,
        "gap": _mm(stock.terms.gap),
        "sheets": stock.count,
        "saved_by_outlines": stock.saved,
        "is_proved_best": is_proved(stock),
        "at_least_sheets": None if is_money else least_sheets(stock),
        "missing": stock.missing,
        "price": _money(stock.cost) if is_money else None,
        "at_least_price": _money(least_cost(stock)),
        "too_large": [one.letter for one in stock.too_large],
        "layouts": [_sheet(sheet) for sheet in stock.sheets],
    }


def _sheet(sheet: SheetLayout) -> dict[str, object]:
    across, up = sheet.room.sheet.size
    return {
        "number": sheet.number,
        "times": sheet.times,
        "across": _mm(across),
        "up": _mm(up),
        "grain": sheet.room.sheet.grain.value,
        "is_missing": sheet.room.is_missing,
        "parts": [_part(one) for one in sheet.placed],
    }


def _part(one: PlacedPart) -> dict[str, object]:
    return {"letter": one.letter, "x": _mm(one.x), "y": _mm(one.y), "turned_deg": 90 * one.quarters}


def _money(price: Decimal | None) -> str | None:
    return None if price is None else f"{price:.2f}"


def _mm(length: Length) -> float:
    return round(float(length.mm), 6)
