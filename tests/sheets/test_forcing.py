"""Which part forces the last sheet, and by how much: told only where a sheet less is then laid out."""

from dataclasses import replace

import pytest

from dielines.lengths import inches, millimetres
from dielines.packing.order import Work
from dielines.sheets.economy_text import economy_data, economy_lines
from dielines.sheets.forcing import forcing_part, forcing_parts
from dielines.sheets.laying_out import lay_out, order_plan, stock_layout
from dielines.sheets.way_of_cutting import BY_KNIFE, By, Terms
from dielines.workshop.sizes import Size


@pytest.fixture(scope="module")
def board(sample):
    """Return a function: the layout of rectangles so large, so many of each, on 12 x 12 in."""
    book, workshop = sample("lakeside")
    layout = lay_out(book, workshop, By.TRIMMER, new_work=lambda: Work(0))
    one = next(s for s in layout.stocks if s.stock.name == "grey board").wanted[0]
    stock = next(s for s in layout.stocks if s.stock.name == "grey board").stock

    def laid(*kinds):
        wanted = [
            replace(
                one, letter=letter, size=Size(inches(across), inches(up)),
                count=count, may_turn=False, quarters=0,
            )
            for letter, across, up, count in kinds
        ]  # fmt: skip
        terms = Terms(By.KNIFE, inches(0), BY_KNIFE)
        return stock_layout(wanted, stock, terms, lambda: Work(50_000))

    return laid


def test_a_board_a_little_too_wide_for_two_forces_the_second_sheet(board):
    stock = board(("A", "6 1/7", 11, 2), ("B", 1, 1, 3))
    assert stock.count == 2
    forcing = forcing_part(stock, "in")
    assert forcing.part.letter == "A"
    assert forcing.narrower == inches("3/16")  # the first sixteenths beyond a seventh
    assert forcing.lower is None


def test_by_how_much_is_enough_and_a_step_less_is_not(board):
    for less, count in (("3/16", 1), ("2/16", 2)):
        across = str((inches("6 1/7") - inches(less)).mm / inches(1).mm)
        whole = board(("A", across, 11, 2), ("B", 1, 1, 3))
        assert whole.count == count


def test_where_all_small_parts_ride_free_none_of_them_forces(board):
    stock = board(("A", 12, 10, 2), ("B", 1, 1, 3))
    forcing = forcing_part(stock, "in")
    assert forcing.part.letter == "A"
    assert (forcing.narrower, forcing.lower) == (None, None)


def test_where_no_single_part_forces_the_last_sheet_none_is_named(board):
    assert forcing_part(board(("A", 12, 6, 4)), "in") is None
    assert forcing_part(board(("A", 12, 6, 1)), "in") is None


def test_one_part_fewer_is_laid_out_on_a_sheet_less(sample):
    book, workshop = sample("seed-swap")
    layout = lay_out(book, workshop, By.TRIMMER)
    found = list(forcing_parts(layout.stocks, book.units))
    assert found
    for stock, forcing in found:
        kind = stock.wanted.index(forcing.part)
        counts = [count - (n == kind) for n, count in enumerate(stock.order.counts)]
        order = replace(stock.order, counts=tuple(counts))
        plan = order_plan(order, stock.terms, Work(40_000))
        assert plan.price(order.beds) < stock.plan.price(order.beds)


def test_text_and_data_tell_by_how_much(board):
    stock = board(("A", "6 1/7", 11, 2), ("B", 1, 1, 3))
    forced = [(stock, forcing_part(stock, "in"))]
    text = "\n".join(economy_lines([], forced, [], "in", ""))
    assert "3/16 in narrower" in text
    (row,) = economy_data([], forced, [], "")["forcing"]
    assert row["letter"] == "A"
    assert row["narrower"] == pytest.approx(float(millimetres("25.4").mm) * 3 / 16)
    assert row["lower"] is None
