import pytest
from layout_judge import wrong_in_plan
from sheets_judge import wrong_in_layout

from dielines.lengths import inches, millimetres
from dielines.packing.order import Work
from dielines.sheets.laying_out import lay_out
from dielines.sheets.way_of_cutting import By

SAMPLES = ("lakeside", "seed-swap", "first-year")


@pytest.mark.parametrize("wish", [By.MACHINE, By.TRIMMER])
@pytest.mark.parametrize("name", SAMPLES)
def test_each_sample_lies_on_its_sheets_with_the_grain(sample, name, wish):
    book, workshop = sample(name)
    layout = lay_out(book, workshop, wish, new_work=lambda: Work(60_000))
    assert wrong_in_layout(book, layout) == []
    assert all(not stock.too_large for stock in layout.stocks)


@pytest.mark.parametrize("name", SAMPLES)
def test_the_proved_bound_is_met_or_missed_by_one_sheet(sample, name):
    from dielines.sheets.sheets_text import least_sheets

    book, workshop = sample(name, "make.copies=1", "make.spares=0")
    for stock in lay_out(book, workshop, By.MACHINE).stocks:
        assert least_sheets(stock) <= stock.count <= least_sheets(stock) + 1, stock.stock.name


def test_rectangles_are_packed_as_the_plan_says(sample):
    book, workshop = sample("lakeside")
    for stock in lay_out(book, workshop, By.TRIMMER).stocks:
        assert wrong_in_plan(stock.order, stock.plan) == []


def test_sheets_are_numbered_through_the_book(sample):
    book, workshop = sample("lakeside")
    layout = lay_out(book, workshop, By.MACHINE, new_work=lambda: Work(0))
    numbers = [sheet.number for _, sheet in layout.sheets()]
    assert numbers == list(range(1, len(numbers) + 1))


def test_a_gap_of_ones_own_is_kept_where_the_stock_is_cut_as_wished(sample):
    book, workshop = sample("lakeside")
    gap = inches("1/3")
    layout = lay_out(book, workshop, By.MACHINE, gap, lambda: Work(0))
    told = {stock.stock.name: stock.terms.gap for stock in layout.stocks}
    assert told["cream cardstock"] == gap
    assert told["grey board"] == millimetres(0)
    assert wrong_in_layout(book, layout) == []


def test_boards_too_thick_for_the_machine_go_under_the_knife(sample):
    book, workshop = sample("lakeside")
    for wish in (By.MACHINE, By.TRIMMER):
        layout = lay_out(book, workshop, wish, new_work=lambda: Work(0))
        ways = {stock.stock.name: stock.terms.by for stock in layout.stocks}
        assert ways.pop("grey board") is By.KNIFE
        assert set(ways.values()) == {wish}


def test_copies_and_spares_are_all_cut(sample):
    book, workshop = sample("lakeside", "make.copies=7", "make.spares=1")
    layout = lay_out(book, workshop, By.MACHINE, new_work=lambda: Work(20_000))
    assert wrong_in_layout(book, layout) == []


def test_the_same_book_gives_the_same_sheets(sample):
    book, workshop = sample("first-year")
    first = lay_out(book, workshop, By.MACHINE, new_work=lambda: Work(50_000))
    assert lay_out(book, workshop, By.MACHINE, new_work=lambda: Work(50_000)) == first


def test_more_work_never_gives_more_sheets(sample):
    book, workshop = sample("seed-swap")
    counts = [
        sum(
            s.count
            for s in lay_out(book, workshop, By.MACHINE, new_work=lambda w=w: Work(w)).stocks
        )
        for w in (0, 30_000, 200_000)
    ]
    assert counts == sorted(counts, reverse=True)
