"""Plans of outlines in the units of their boxes, where the grid cannot be exact."""

import pytest
from notched_album import notched_album, parts
from outline_judge import wrong_counts, wrong_on_outline_sheet, wrong_turns

from dielines.packing.cells import Cells, Shape
from dielines.packing.free_rectangles import free_rectangle_filler
from dielines.packing.kits import solve
from dielines.packing.order import Bed, Box, Method, Order, Pattern, Placed, Plan, Work
from dielines.packing.outlines.filler import outline_filler
from dielines.packing.outlines.solving import Outline, outline_plan

UNIT = 0.01  #: mm; nothing here is a whole number of cells of the grid that is taken


def outlines_in_mm():
    """Return the album with notches in mm, a little off the grid of sixteenths."""
    return tuple(
        Outline((tuple((float(x) * 25.37, float(y) * 25.37) for x, y in ring),), quarters)
        for ring, _, quarters in parts(8)
    )


def units(length):
    """Return a length in units, upwards."""
    return -int(-(length / UNIT) // 1)


def order_of(outlines, counts, bed, gap):
    boxes = tuple(
        Box(*(units(max(p[axis] for p in o.rings[0]) + gap) for axis in (0, 1)), 1 in o.quarters)
        for o in outlines
    )
    return Order(boxes, tuple(counts), (bed,))


def faults(outlines, order, plan, gap):
    shapes = [Shape(tuple((q, Cells(1, 1, (1,))) for q in o.quarters)) for o in outlines]
    found = list(wrong_counts(order, plan.runs))
    for pattern, _ in plan.runs:
        found += wrong_on_outline_sheet([o.rings for o in outlines], order, pattern, UNIT, gap)
        found += wrong_turns(shapes, order, pattern)
    return found


def boxes_alone(order):
    return Method((free_rectangle_filler(order),), (), lambda _: 0)


@pytest.mark.parametrize("copies", [1, 12])
def test_outlines_off_the_grid_save_sheets_and_keep_their_gap(copies):
    gap = 3.1
    counts = [count * copies for _, count, _ in parts(8)]
    side = units(11.5 * 25.37 + gap)
    outlines = outlines_in_mm()
    order = order_of(outlines, counts, Bed(side, side), gap)
    plan = outline_plan(order, outlines, (UNIT, gap), Work(400_000))
    assert faults(outlines, order, plan, gap) == []
    assert plan.sheets() <= {1: 13, 12: 153}[copies]


def test_boxes_that_fit_to_a_unit_keep_their_sheet_though_cells_do_not():
    # three of 99.97 mm and two gaps of 3.01 mm on 305.93 mm: every grid of cells loses one
    gap, wide = 3.01, 99.97
    ring = ((0.0, 0.0), (wide, 0.0), (wide, 290.0), (0.0, 290.0))
    tapered = ((0.0, 0.0), (wide, 0.0), (wide, 250.0), (1 / 3, 290.0))
    outlines = (Outline((ring,), (0,)), Outline((tapered,), (0, 2)))
    bed = Bed(units(305.93 + gap), units(300 + gap))
    order = order_of(outlines, [6, 3], bed, gap)
    assert (
        max(bed.width // cell // -(-order.boxes[0].width // cell) for cell in range(39, 104)) == 2
    )
    plan = outline_plan(order, outlines, (UNIT, gap), Work(100_000))
    assert plan.sheets() == 3
    assert faults(outlines, order, plan, gap) == []


def test_a_known_plan_that_is_kept_is_tidied():
    ring = ((0.0, 0.0), (41.25, 0.0), (41.25, 61.25), (0.0, 61.25))
    outlines = (Outline((ring,), (0, 1)),)
    order = order_of(outlines, [4], Bed(units(116.25), units(116.25)), 1.25)
    spread = ((0, 0, 1), (7375, 0, 0), (0, 4250, 0), (5375, 7375, 1))
    known = Plan(((Pattern(0, tuple(Placed(0, *place) for place in spread)), 1),), 0)
    assert faults(outlines, order, known, 1.25) == []
    plan = outline_plan(order, outlines, (UNIT, 1.25), Work(0), [known])
    assert plan.sheets() == 1
    assert max(p.y + 4250 + 2000 * (p.quarters == 0) for p in plan.runs[0][0].placed) == 10500
    assert faults(outlines, order, plan, 1.25) == []


def test_a_plan_that_is_known_is_never_beaten_by_a_worse_one():
    gap = 3.1
    outlines = outlines_in_mm()
    side = units(11.5 * 25.37 + gap)
    order = order_of(outlines, [count for _, count, _ in parts(8)], Bed(side, side), gap)
    known = outline_plan(order, outlines, (UNIT, gap), Work(400_000))
    again = outline_plan(order, outlines, (UNIT, gap), Work(0), [known])
    assert again.price(order.beds) <= known.price(order.beds)
    assert known.price(order.beds) < solve(order, boxes_alone(order), Work(0)).price(order.beds)


def test_places_are_told_in_units_of_the_order():
    order, shapes = notched_album(8, 1)
    finer = Order(
        tuple(Box(5 * box.width - 3, 5 * box.height - 4, box.may_turn) for box in order.boxes),
        order.counts,
        (Bed(5 * order.beds[0].width + 4, 5 * order.beds[0].height + 4),),
    )
    kinds = [1, 5, 2, 2]
    coarse = outline_filler(order, shapes)(kinds, 0, Work(0)).placed
    fine = outline_filler(finer, shapes, 5)(kinds, 0, Work(0)).placed
    assert fine == tuple(p._replace(x=5 * p.x, y=5 * p.y) for p in coarse)
