"""Albums of parts that are not rectangles, on as few sheets as before or fewer."""

import pytest
from notched_album import EARLIER, GAP, notched_album, parts
from outline_judge import wrong_counts, wrong_on_outline_sheet, wrong_turns

from dielines.packing.cells import Cells, Shape
from dielines.packing.kits import solve
from dielines.packing.order import Bed, Box, Order, Pattern, Placed, Work
from dielines.packing.outlines.method import outline_method

RINGS = [[[(x * 16, y * 16) for x, y in ring]] for ring, _, _ in parts(8)]


def plan_of(pages, copies, long, work):
    order, shapes = notched_album(pages, copies, long)
    plan = solve(order, outline_method(order, shapes), Work(work))
    return order, shapes, plan


@pytest.mark.parametrize(("long", "pages", "copies"), list(EARLIER))
def test_an_album_needs_no_more_sheets_than_before(long, pages, copies):
    order, shapes, plan = plan_of(pages, copies, long, 1_000_000)
    assert plan.sheets() <= EARLIER[long, pages, copies][0]
    assert wrong_counts(order, plan.runs) == []
    for pattern, _ in plan.runs:
        assert wrong_on_outline_sheet(RINGS, order, pattern, 1, GAP) == []
        assert wrong_turns(shapes, order, pattern) == []


def test_the_bound_is_told_as_open():
    _, _, plan = plan_of(4, 1, 12, 0)
    assert plan.is_open


def test_no_work_at_all_still_gives_a_whole_plan():
    order, _, plan = plan_of(12, 24, 12, 0)
    assert wrong_counts(order, plan.runs) == []


def test_sheets_of_two_sizes_share_the_parts_by_price():
    # a hook of 9 of 25 cells: two interlock on 6 x 6; the sheet for one alone costs as much
    hook = Cells(5, 5, (31, 1, 1, 1, 1))
    shapes = (Shape(((0, hook), (2, hook.turned().turned()))),)
    order = Order((Box(5, 5),), (4,), (Bed(5, 5, 3), Bed(6, 6, 4, at_most=1)))
    plan = solve(order, outline_method(order, shapes), Work(100_000))
    assert plan.price(order.beds) == 10
    assert wrong_counts(order, plan.runs) == []


def hooks(count, side):
    """Return the order and shapes of hooks that interlock in pairs on 6 x 6."""
    hook = Cells(5, 5, (31, 1, 1, 1, 1))
    shapes = (Shape(((0, hook), (2, hook.turned().turned()))),)
    return Order((Box(5, 5),), (count,), (Bed(side, side),)), shapes


def test_single_sheets_are_emptied_into_others():
    order, shapes = hooks(4, 6)
    alone = [Pattern(0, (Placed(0, 0, 0),))] * 4
    found = outline_method(order, shapes).improver(order, alone, 0, Work(100_000))
    assert [len(pattern.placed) for pattern in found] == [2, 2]


def test_sheets_that_area_cannot_better_take_no_work():
    # one hook of 9 of 25 cells is 1 sheet by area and needs 1
    order, shapes = hooks(1, 5)
    work = Work(100_000)
    outline_method(order, shapes).improver(order, [Pattern(0, (Placed(0, 0, 0),))], 0, work)
    assert work.spent < 1000
