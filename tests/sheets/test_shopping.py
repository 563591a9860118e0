"""What a class needs and what it costs: sums worked out by hand."""

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

import pytest

from dielines.lengths import inches
from dielines.packing.order import Work
from dielines.sheets.laying_out import lay_out
from dielines.sheets.shopping import Need, Shopping, shopping_for
from dielines.sheets.shopping_text import shopping_data, shopping_text
from dielines.sheets.way_of_cutting import By
from dielines.taping.plan import tape_plan

SHEETS = Need("card, 12 x 12", "sheet", 7, Fraction(7), Decimal("0.6"))
ROLLS = Need("tape, 1/4 in", "roll", 2, Fraction(4, 3), Decimal("3.1"))
UNKNOWN = Need("tape, 1 in", "roll", None, None, Decimal("2"))


def test_sums_count_whole_sheets_and_rolls_and_what_is_used_of_them():
    shopping = Shopping((SHEETS, ROLLS, UNKNOWN), 3, "EUR")
    assert shopping.price == Decimal("10.4")
    assert shopping.price_of_used == Decimal("4.2") + Decimal("4.13")
    assert shopping.price_of_a_copy == Decimal("2.78")
    assert shopping.unpriced == (UNKNOWN,)


def test_what_is_at_hand_costs_nothing_unless_it_has_a_price():
    at_hand = replace(SHEETS, each=Decimal(0), is_at_hand=True)
    assert Shopping((at_hand,), 1, "").price == 0


@pytest.mark.parametrize("copies", [1, 5])
def test_a_sample_needs_the_sheets_of_its_layout_and_the_rolls_of_its_tape_plan(sample, copies):
    book, workshop = sample("lakeside", f"make.copies={copies}")
    layout = lay_out(book, workshop, By.MACHINE, new_work=lambda: Work(5_000))
    plan = tape_plan(book)
    shopping = shopping_for(book, layout, plan, "EUR")
    sheets = sum(need.count for need in shopping.needs if need.unit == "sheet")
    assert sheets == sum(stock.count for stock in layout.stocks)
    rolls = [need for need in shopping.needs if need.unit == "roll"]
    assert len(rolls) == len(plan.totals)
    assert shopping.copies == copies


def test_offcuts_are_at_hand_and_what_is_missing_is_told(sample):
    from dielines.workshop.stock import Sheet

    book, workshop = sample("lakeside")
    few = {
        entry.stock.name: replace(
            entry.stock, sheets=tuple(replace(s, have=1) for s in entry.stock.sheets)
        )
        for entry in book.parts
    }
    assert all(isinstance(sheet, Sheet) for stock in few.values() for sheet in stock.sheets)
    parts = tuple(replace(entry, stock=few[entry.stock.name]) for entry in book.parts)
    poor = replace(book, parts=parts)
    layout = lay_out(poor, workshop, By.MACHINE, new_work=lambda: Work(5_000))
    needs = shopping_for(poor, layout, tape_plan(poor)).needs
    card = [need for need in needs if need.what.startswith("cream cardstock")]
    assert [need.is_at_hand for need in sorted(card, key=lambda need: not need.is_at_hand)] == [
        True, False,
    ]  # fmt: skip
    assert sum(need.count for need in card) >= 2


def test_text_and_data_tell_the_same_sums():
    shopping = Shopping((SHEETS, ROLLS, UNKNOWN), 3, "EUR")
    text, data = shopping_text("Lake", shopping, "in"), shopping_data(shopping)
    assert "10.40 EUR" in text
    assert "2.78 EUR" in text
    assert "tape, 1 in" in text.partition("Not counted")[2]
    assert data["price"] == "10.40"
    assert data["price_of_a_copy"] == "2.78"
    assert data["needs"][2]["count"] is None
    assert max(map(len, text.splitlines())) <= 100


def test_nothing_priced_is_told_so():
    text = shopping_text("Lake", Shopping((replace(SHEETS, each=None),), 1, ""), "in")
    assert "Together" not in text


def test_tape_is_told_by_its_length_even_where_no_roll_has_one(sample):
    book, workshop = sample("lakeside")
    layout = lay_out(book, workshop, By.MACHINE, new_work=lambda: Work(0))
    plan = tape_plan(book)
    shopping = shopping_for(book, layout, plan)
    told = [need.length for need in shopping.needs if need.unit == "roll"]
    assert told == [total.length for total in plan.totals]
    text = shopping_text("Lake", shopping, "mm")
    assert sum(line.endswith(" m used") for line in text.splitlines()) == len(told) > 0
    unknown = replace(UNKNOWN, length=inches(250 / Fraction(7)))
    assert "1.00 yd used" in shopping_text("Lake", Shopping((unknown, SHEETS), 1, ""), "in")


def test_what_fits_no_sheet_is_not_forgotten(sample):
    book, workshop = sample("lakeside", "size=page 13 x 4")
    layout = lay_out(book, workshop, By.MACHINE, new_work=lambda: Work(0))
    large = {
        s.stock.name: [one.letter for one in s.too_large] for s in layout.stocks if s.too_large
    }
    assert len(large) > 1
    shopping = shopping_for(book, layout, tape_plan(book))
    assert shopping_data(shopping)["left_out"] == large
    said = shopping_text("Lake", shopping, "in").partition("Not on this list")[2]
    assert all(
        f"{name} for {letters[0]}" in said.replace("\n", " ") for name, letters in large.items()
    )


def test_what_is_used_up_is_told_only_where_it_is_not_all():
    assert "used up" not in shopping_text("Lake", Shopping((SHEETS,), 1, ""), "in")
    assert "4.13" in shopping_text("Lake", Shopping((ROLLS,), 1, ""), "in")
