from dataclasses import replace
from decimal import Decimal

from dielines.lengths import inches, millimetres
from dielines.sheets.prices import COUNTED, HAD, prices_of
from dielines.sheets.rooms import rooms_of
from dielines.workshop.reach import BY_KNIFE, Reach
from dielines.workshop.sizes import Size, parse_size
from dielines.workshop.stock import Grain, Printed, Sheet, Stock, StockKind


def stock(*sheets, **more):
    return Stock(
        "card", StockKind.PAPER, millimetres("0.3"), False, None, sheets, Printed.NONE,
        more.pop("is_one_way_up", False), (), **more,
    )  # fmt: skip


A4 = parse_size("A4", None)


def test_a_sheet_lies_with_its_grain_up():
    (room,) = rooms_of(stock(Sheet(A4, Grain.ACROSS)), BY_KNIFE)
    assert room.size == A4.turned
    assert room.sheet.grain is Grain.UP


def test_a_print_keeps_a_sheet_as_it_is():
    for more in ({"is_one_way_up": True}, {"is_striped": True}):
        (room,) = rooms_of(stock(Sheet(A4, Grain.ACROSS), **more), BY_KNIFE)
        assert room.size == A4


def test_the_machine_takes_a_sheet_either_way_round():
    reach = Reach(Size(inches(12), inches(24)), inches("1/4"))
    (room,) = rooms_of(stock(Sheet(Size(inches(24), inches(12)), Grain.UP)), reach)
    assert room.size == Size(inches("23 1/2"), inches("11 1/2"))
    assert room.is_fed_turned


def test_both_ways_are_tried_where_neither_holds_the_other():
    reach = Reach(Size(inches(10), inches(14)), inches(0))
    rooms = rooms_of(stock(Sheet(Size(inches(12), inches(18)), Grain.UP)), reach)
    assert [room.size for room in rooms] == [
        Size(inches(10), inches(14)), Size(inches(12), inches(10)),
    ]  # fmt: skip
    assert [room.is_fed_turned for room in rooms] == [False, True]


def test_an_offcut_is_one_room_whichever_way_it_is_fed():
    reach = Reach(Size(inches(10), inches(14)), inches(0))
    sheet = Sheet(Size(inches(12), inches(18)), Grain.UP, have=2)
    rooms = [room for room in rooms_of(stock(sheet), reach) if not room.is_missing]
    assert [room.size for room in rooms] == [Size(inches(10), inches(14))]


def test_offcuts_without_whole_sheets_are_followed_by_what_is_missing():
    rooms = rooms_of(stock(Sheet(A4, Grain.UP, have=3)), BY_KNIFE)
    assert [(room.sheet.have, room.is_missing) for room in rooms] == [(3, False), (None, True)]


def test_nothing_is_missing_where_a_whole_sheet_does_as_well():
    large = Sheet(parse_size("A3", None), Grain.UP)
    rooms = rooms_of(stock(Sheet(A4, Grain.UP, have=3), large), BY_KNIFE)
    assert not any(room.is_missing for room in rooms)


def test_sheets_of_one_size_are_counted():
    assert prices_of(rooms_of(stock(Sheet(A4, Grain.UP)), BY_KNIFE)).of_rooms == (1,)


def test_of_two_sizes_without_price_the_smaller_costs_a_little_less():
    sheets = Sheet(A4, Grain.UP), Sheet(parse_size("A3", None), Grain.UP)
    small, large = prices_of(rooms_of(stock(*sheets), BY_KNIFE)).of_rooms
    assert COUNTED < small < large < COUNTED * 1.02


def test_where_all_is_priced_money_counts_and_what_one_has_is_nearly_free():
    sheets = (
        Sheet(A4, Grain.UP, Decimal("0.25")), Sheet(A4, Grain.UP, have=2),
        Sheet(parse_size("A3", None), Grain.UP, Decimal("0.4")),
    )  # fmt: skip
    prices = prices_of(rooms_of(stock(*sheets), BY_KNIFE))
    assert prices.is_money
    assert prices.of_rooms == (2500, HAD, 4000)


def test_one_size_without_a_price_makes_all_of_them_counted():
    sheets = Sheet(A4, Grain.UP, Decimal("0.25")), Sheet(parse_size("A3", None), Grain.UP)
    assert not prices_of(rooms_of(stock(*sheets), BY_KNIFE)).is_money


def test_a_missing_sheet_is_dearer_than_all_that_is_there():
    prices = prices_of(rooms_of(stock(Sheet(A4, Grain.UP, Decimal(3), 5)), BY_KNIFE)).of_rooms
    assert prices[1] > 100 * prices[0]


def test_parts_turn_freely_only_where_neither_grain_nor_print_says_otherwise():
    bare = stock(Sheet(A4, Grain.NONE))
    assert [room.turns_all for room in rooms_of(bare, BY_KNIFE)] == [True]
    for other in (
        replace(bare, is_striped=True),
        replace(bare, is_one_way_up=True),
        stock(Sheet(A4, Grain.UP)),
    ):
        assert [room.turns_all for room in rooms_of(other, BY_KNIFE)] == [False]


def test_a_striped_stock_differs_from_a_plain_one_only_in_turning():
    plain = stock(Sheet(A4, Grain.UP))
    assert not plain.keeps_upright
    assert replace(plain, is_striped=True).keeps_upright
