"""What is said of sheets: true prices, what is missing, what is left out, what is out of reach."""

from dataclasses import replace
from decimal import Decimal

import pytest

from dielines.lengths import millimetres
from dielines.packing.order import Work
from dielines.sheets.laying_out import lay_out
from dielines.sheets.sheets_data import sheets_data
from dielines.sheets.sheets_text import bound_words, least_sheets, sheets_text, total
from dielines.sheets.way_of_cutting import By
from dielines.workshop.sizes import Size

CARD = "cream cardstock"


def with_sheets_of_card(book, sheets_from):
    """Return *book* whose card comes on other sheets."""
    return replace(
        book,
        parts=tuple(
            replace(entry, stock=replace(entry.stock, sheets=sheets_from(entry.stock.sheets)))
            if entry.stock.name == CARD
            else entry
            for entry in book.parts
        ),
    )


def card_of(book, workshop, steps=2_000):
    layout = lay_out(book, workshop, By.MACHINE, new_work=lambda: Work(steps))
    return next(stock for stock in layout.stocks if stock.stock.name == CARD)


def few(price):
    """One sheet of two sizes each, and no more; with a price for the larger."""

    def sheets(of_stock):
        large = replace(of_stock[0], price=price, have=1)
        small = replace(of_stock[0], size=Size(millimetres(280), millimetres(300)))
        return (large, replace(small, price=None, have=1))

    return sheets


def test_what_is_missing_costs_what_its_sheets_cost_and_no_more(sample):
    book, workshop = sample("lakeside", "make.copies=5")
    card = card_of(with_sheets_of_card(book, few(Decimal("0.37"))), workshop)
    bought = sum(sheet.times for sheet in card.sheets if sheet.room.sheet.price is not None)
    dear = any(s.room.is_missing and s.room.sheet.price is None for s in card.sheets)
    assert card.missing >= card.count - 2 > 3
    assert not dear
    assert card.cost == bought * Decimal("0.37")
    said = total(card, "in", "EUR")
    assert f", {card.cost} EUR; " in said
    assert said.count("EUR") == 1


def test_too_few_sheets_without_a_price_are_never_said_to_need_more_than_were_found(sample):
    book, workshop = sample("lakeside", "make.copies=5")

    def sheets(of_stock):
        own, small = few(None)(of_stock)
        return (own, replace(small, size=Size(millimetres(170), millimetres(300)), have=None))

    card = card_of(with_sheets_of_card(book, sheets), workshop, 0)
    assert 1 < card.missing < card.count - 1
    assert 1 <= least_sheets(card) <= card.count
    poor = card_of(with_sheets_of_card(book, few(None)), workshop, 0)
    assert 1 <= least_sheets(poor) <= poor.count


def test_a_bound_that_is_open_is_rounded_down_to_hundredths(sample):
    book, workshop = sample("lakeside", "make.copies=5")

    def sheets(of_stock):
        return (replace(of_stock[0], price=Decimal("0.2357"), have=None),)

    card = card_of(with_sheets_of_card(book, sheets), workshop, 0)
    open_ = replace(card, plan=replace(card.plan, bound=card.order.beds[0].price * 3))
    assert card.order.beds[0].price == 2357
    assert "less than 0.70 EUR" in bound_words(open_, "EUR")


def test_programs_are_told_the_same_prices(sample):
    book, workshop = sample("lakeside", "make.copies=5")
    poor = with_sheets_of_card(book, few(Decimal("0.37")))
    layout = lay_out(poor, workshop, By.MACHINE, new_work=lambda: Work(2_000))
    card = next(s for s in layout.stocks if s.stock.name == CARD)
    data = next(s for s in sheets_data(poor, layout, "EUR")["stocks"] if s["stock"] == CARD)
    assert data["price"] == f"{card.cost:.2f}"
    assert data["at_least_price"] is None
    assert data["missing"] == card.missing > 0


@pytest.mark.parametrize(("across", "is_told"), [("150", True), ("710", False)])
def test_a_machine_that_reaches_a_part_of_a_sheet_is_told_so(sample, across, is_told):
    book, workshop = sample("seed-swap")
    area = Size(millimetres(int(across)), millimetres(710))
    small = replace(workshop, machine=replace(workshop.machine, area=area))
    layout = lay_out(book, small, By.MACHINE, new_work=lambda: Work(0))
    rooms = [sheet.room for _, sheet in layout.sheets()]
    assert any(room.is_only_a_part for room in rooms) == is_told
    assert ("the machine reaches only" in sheets_text(book, layout, small)) == is_told
    assert all(len(line) <= 100 for line in sheets_text(book, layout, small).splitlines())
