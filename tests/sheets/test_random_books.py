"""Books at random on sheets of many kinds: judged with shapely, and their cuts replayed."""

from dataclasses import replace
from decimal import Decimal

import pytest
from composed import composed
from layout_judge import wrong_in_plan
from random_books import random_book
from sheets_judge import wrong_in_layout

from dielines.errors import BookError
from dielines.lengths import inches, millimetres
from dielines.packing.lots import Lots
from dielines.packing.order import Work
from dielines.sheets.laying_out import lay_out
from dielines.sheets.way_of_cutting import By
from dielines.workshop.loading import typical_workshop
from dielines.workshop.sizes import Size
from dielines.workshop.stock import Grain, Sheet


def sheets_for(lots):
    """Return one to three sizes, large enough for most parts, with prices or few of them."""
    found = []
    for _ in range(1 + lots.below(3)):
        size = Size(inches(12 + lots.below(13)), inches(12 + lots.below(13)))
        grain = (Grain.UP, Grain.ACROSS, Grain.NONE)[lots.below(3)]
        price = (None, Decimal("0.7"), Decimal("1.25"))[lots.below(3)]
        have = (None, None, 1 + lots.below(4))[lots.below(3)]
        found.append(Sheet(size, grain, price, have))
    return tuple(found)


def stocked(book, lots):
    """Return *book* with its stocks in other sheets, striped or with a top now and then."""
    stocks = {}
    for entry in book.parts:
        if entry.stock.name not in stocks:
            stocks[entry.stock.name] = replace(
                entry.stock,
                sheets=sheets_for(lots),
                is_one_way_up=lots.below(5) == 0,
                is_striped=lots.below(5) == 0,
            )
    parts = tuple(replace(entry, stock=stocks[entry.stock.name]) for entry in book.parts)
    return replace(book, parts=parts)


def shop_for(workshop, lots):
    machine = replace(
        workshop.machine,
        area=Size(inches(10 + lots.below(8)), inches(12 + lots.below(13))),
        margin=(millimetres(0), inches("1/7"), millimetres("6.35"))[lots.below(3)],
        gap=(millimetres(0), millimetres(3), inches("1/9"))[lots.below(3)],
        thickest=millimetres("0.6"),
    )
    trimmer = replace(
        workshop.trimmer,
        margin=(millimetres(0), millimetres(5))[lots.below(2)],
        gap=(millimetres(0), inches("1/16"))[lots.below(2)],
    )
    return replace(workshop, machine=machine, trimmer=trimmer)


def hold(seed, work):
    lots = Lots(seed)
    try:
        book = composed(random_book(seed))
    except BookError:
        return
    book = stocked(book, lots)
    copies = (1, 1, 1, 3, 12)[lots.below(5)]
    book = replace(book, request=replace(book.request, copies=copies, spares=lots.below(2)))
    workshop = shop_for(typical_workshop("in"), lots)
    for wish in (By.MACHINE, By.TRIMMER):
        layout = lay_out(book, workshop, wish, new_work=lambda: Work(work))
        assert wrong_in_layout(book, layout) == [], (seed, wish)
        for stock in layout.stocks:
            if stock.terms.by.is_edge_to_edge:
                assert wrong_in_plan(stock.order, stock.plan) == [], (seed, wish)
            assert stock.plan.bound <= stock.plan.price(stock.order.beds), (seed, wish)


@pytest.mark.parametrize("seed", range(24))
def test_a_random_book_lies_right_on_its_sheets(seed):
    hold(seed, 4_000)


@pytest.mark.soak
@pytest.mark.parametrize("seed", range(1000, 1150))
def test_very_many_random_books_lie_right_on_their_sheets(seed):
    hold(seed, 60_000)
