"""Advice on paper economy: what is told, in which order, and what it says in text and data."""

import json
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction
from pathlib import Path

import pytest

from dielines.book.reading import book_document
from dielines.lengths import inches
from dielines.packing.order import Work
from dielines.sheets.again import AsCut
from dielines.sheets.changes import Change
from dielines.sheets.economy import MOST, Saving, savings
from dielines.sheets.economy_text import economy_data, economy_lines
from dielines.sheets.laying_out import lay_out
from dielines.sheets.other_sheets import OtherSheet, other_sheets
from dielines.sheets.way_of_cutting import By
from dielines.workshop.sizes import Size
from dielines_cli.main import main

LAKE = Path(__file__).parents[2] / "samples" / "lakeside" / "lakeside.toml"
LONG = Change("usual seam_tab", "seam tab " * 9, '--set "usual.seam_tab=1/7"', Fraction(1, 7))


def saving(before=9, after=8, prices=(None, None), copies=1, share=Fraction(1, 7)):
    change = Change("gap", "gap between parts", '--gap "1/14"', share)
    return Saving(change, before, after, *prices, copies, ("card",))


@pytest.fixture(scope="module")
def lake(sample):
    """Return what would save sheets of the lake album by trimmer, and all books asked about."""
    book, workshop = sample("lakeside")
    layout = lay_out(book, workshop, By.TRIMMER)
    cut = AsCut(book, workshop, By.TRIMMER, None)
    asked = []

    def is_sound(changed):
        asked.append(changed)
        return True

    return savings(book_document(LAKE), [], cut, layout, is_sound), asked, layout, cut


def test_changes_that_are_told_save_sheets_when_they_are_made(lake, sample):
    found, _, layout, _ = lake
    assert 0 < len(found) <= MOST
    for told in found:
        book, workshop = sample("lakeside", told.change.setting)
        again = lay_out(book, workshop, By.TRIMMER)
        assert sum(stock.count for stock in again.stocks) == told.after < told.before
        assert told.before == sum(stock.count for stock in layout.stocks)


def test_at_most_one_of_each_kind_is_told_and_the_best_first(lake):
    found = lake[0]
    kinds = [told.change.kind for told in found]
    assert len(set(kinds)) == len(kinds)
    assert [told.rank for told in found] == sorted(told.rank for told in found)


def test_the_smallest_step_that_saves_as_much_is_told(lake):
    steps = {told.change.kind: told.change.setting for told in lake[0]}
    assert steps["size lower"] == "size=photo 5 x 3 7/16"
    assert steps["usual mat_border"] == "usual.mat_border=3/16"


def test_only_what_is_told_is_checked(lake):
    assert len(lake[1]) == len(lake[0])


def test_what_does_not_hold_is_not_told(lake):
    _, _, layout, cut = lake
    document = book_document(LAKE)

    def is_lower(changed):
        return changed.book.request.size.sides.up < inches("3 1/2")

    found = savings(document, [], cut, layout, is_lower)
    assert [told.change.kind for told in found] == ["size lower"]
    assert savings(document, [], cut, layout, lambda changed: False) == ()


def test_money_comes_before_sheets_and_sheets_before_small_steps():
    cheap = saving(9, 8, (Decimal(9), Decimal("8.2")), share=Fraction(1, 2))
    fewer = saving(9, 7, (Decimal(9), Decimal("8.9")), share=Fraction(1, 3))
    least = saving(9, 8, (Decimal(9), Decimal("8.9")), share=Fraction(1, 9))
    assert sorted([least, fewer, cheap], key=lambda one: one.rank) == [cheap, fewer, least]


def test_text_tells_sheets_and_prices_before_and_after_for_all_and_for_one_copy():
    one = saving(30, 23, (Decimal("21"), Decimal("16.1")), copies=7)
    text = "\n".join(economy_lines([one], [], [], "in", "EUR"))
    for word in ("30->23", "21.00->16.10", "3.00->2.30", "EUR", '--gap "1/14"'):
        assert word in text
    alone = "\n".join(economy_lines([saving()], [], [], "in", "EUR"))
    assert "EUR" not in alone
    assert "9->8" in alone


def test_no_line_of_text_is_longer_than_a_hundred_characters(lake, sample):
    long = Saving(LONG, 12345, 12344, Decimal("123456.78"), Decimal("123450"), 24, ())
    others = [OtherSheet(lake[2].stocks[0], Size(inches("12 1/7"), inches("24 1/3")), 1234)]
    lines = economy_lines([*lake[0], long], [], others, "in", "EUR")
    assert max(map(len, lines)) <= 100
    assert any("1234 sheets" in line for line in lines)


def test_data_tells_the_same_and_goes_through_json():
    one = saving(30, 23, (Decimal("21"), Decimal("16.1")), copies=7)
    data = json.loads(json.dumps(economy_data([one, saving()], [], [], "EUR")))
    first, second = data["savings"]
    assert (first["before"], first["after"]) == (30, 23)
    assert (first["price_before"], first["price_after_of_a_copy"]) == ("21.00", "2.30")
    assert second["price_before"] is None


def test_another_size_of_sheet_is_told_where_it_saves_paper(lake):
    layout = lake[2]
    (other,) = other_sheets(layout, "in")
    assert other.stock.stock.name == "leaf print"
    assert (other.count, other.stock.count) == (4, 3)
    assert other.paper_saved == 1 - Fraction(4 * 17 * 11, 2) / (3 * 144)
    assert other.pays_below is None


def test_a_size_of_sheet_pays_below_what_all_sheets_cost_now(sample):
    book, workshop = sample("lakeside")
    stock = lay_out(book, workshop, By.MACHINE, new_work=lambda: Work(0)).stocks[0]
    rooms = tuple(replace(r, sheet=replace(r.sheet, price=Decimal("0.7"))) for r in stock.rooms)
    other = OtherSheet(replace(stock, rooms=rooms), Size(inches(12), inches(24)), 2)
    assert other.pays_below == stock.count * Decimal("0.35")


def test_offcuts_are_used_up_and_no_other_sheet_is_advised(lake):
    def with_few(stock):
        sheets = tuple(replace(sheet, have=3) for sheet in stock.stock.sheets)
        return replace(stock, stock=replace(stock.stock, sheets=sheets))

    layout = lake[2]
    few = replace(layout, stocks=tuple(map(with_few, layout.stocks)))
    assert other_sheets(few, "in") == ()


def test_the_command_tells_the_advice_and_changes_nothing(capsys):
    before = LAKE.read_bytes()
    assert main(["sheets", str(LAKE), "--by", "trimmer", "--economy", "--json"]) == 0
    data = json.loads(capsys.readouterr().out)["economy"]
    assert data["savings"][0]["after"] < data["savings"][0]["before"]
    assert data["other_sheets"][0]["stock"] == "leaf print"
    assert LAKE.read_bytes() == before
