"""Places on a sheet, held against cells laid down one by one."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dielines.packing.cells import Cells, Shape
from dielines.packing.order import Bed, Box, Order, Work
from dielines.packing.outlines.lying import Sheet
from dielines.packing.outlines.raster import Corner, Raster, rectangles


@st.composite
def blots(draw):
    """Draw cells that need not hang together, but reach all four sides of their box."""
    width, height = draw(st.integers(1, 6)), draw(st.integers(1, 6))
    rows = [draw(st.integers(0, 2**width - 1)) for _ in range(height)]
    rows[0] |= 1
    rows[-1] |= 1 << (width - 1)
    return Cells(width, height, tuple(rows))


def dots(cells, x=0, y=0):
    return {
        (x + i, y + j)
        for j, row in enumerate(cells.rows)
        for i in range(cells.width)
        if row >> i & 1
    }


def order_of(shapes, width, height):
    boxes = tuple(Box(s.lying[0][1].width, s.lying[0][1].height, True) for s in shapes)
    return Order(boxes, (1,) * len(boxes), (Bed(width, height),))


def free_by_hand(cells, width, height, taken):
    """Return all places (y, x) where cells lie inside and meet nothing."""
    return [
        (y, x)
        for y in range(height - cells.height + 1)
        for x in range(width - cells.width + 1)
        if not dots(cells, x, y) & taken
    ]


BEST = {
    Corner.LOW_LEFT: lambda place: place,
    Corner.LOW_RIGHT: lambda place: (place[0], -place[1]),
    Corner.HIGH_LEFT: lambda place: (-place[0], place[1]),
    Corner.HIGH_RIGHT: lambda place: (-place[0], -place[1]),
}


@given(
    st.lists(blots(), min_size=1, max_size=4),
    st.integers(6, 14), st.integers(6, 14),
    st.lists(st.tuples(st.integers(0, 99), st.sampled_from(Corner)), min_size=1, max_size=12),
)  # fmt: skip
def test_each_part_takes_the_free_place_nearest_its_corner(blots, width, height, wishes):
    shapes = [Shape(((0, cells),)) for cells in blots]
    sheet = Sheet(Raster(order_of(shapes, width, height), shapes, 0), Work(0))
    taken = set()
    for number, corner in wishes:
        stance = number % len(blots)
        free = free_by_hand(blots[stance], width, height, taken)
        wanted = min(free, key=BEST[corner], default=None)
        place = sheet.free_place(stance, corner)
        found = None if place is None else sheet.raster.position(stance, place)[::-1]
        assert found == wanted
        if place is not None:
            sheet.put(stance, place)
            taken |= dots(blots[stance], wanted[1], wanted[0])


@given(blots())
def test_rectangles_cover_the_cells_and_nothing_twice(cells):
    found = [
        (x + i, y + j)
        for x, y, width, height in rectangles(cells)
        for i in range(width)
        for j in range(height)
    ]
    assert sorted(found) == sorted(dots(cells))


def quarters_on(may_turn, turns_all):
    bar = Cells(3, 1, (7,))
    shape = Shape(((0, bar), (1, bar.turned()), (2, bar), (3, bar.turned())))
    order = Order((Box(3, 1, may_turn),), (1,), (Bed(5, 5, turns_all=turns_all),))
    return [stance.quarters for stance in Raster(order, [shape], 0).stances]


@pytest.mark.parametrize(
    ("may_turn", "turns_all", "quarters"),
    [(True, False, [0, 1]), (False, False, [0]), (False, True, [0, 1])],
)
def test_a_turn_is_legal_where_the_part_or_the_sheet_allows_it(may_turn, turns_all, quarters):
    assert quarters_on(may_turn, turns_all) == quarters


def test_half_a_turn_keeps_the_grain_and_is_its_own_stance_where_the_shape_differs():
    hook = Cells(2, 2, (0b11, 0b01))
    shape = Shape(tuple((q, cells) for q, cells in enumerate(turns(hook))))
    order = Order((Box(2, 2, False),), (1,), (Bed(5, 5),))
    assert [s.quarters for s in Raster(order, [shape], 0).stances] == [0, 2]


def turns(cells):
    for _ in range(4):
        yield cells
        cells = cells.turned()


def test_a_part_larger_than_the_sheet_has_no_stance():
    shape = Shape(((0, Cells(6, 1, (63,))),))
    assert Raster(order_of([shape], 5, 5), [shape], 0).of_kind == ((),)


@given(blots(), blots(), st.integers(7, 14), st.integers(7, 14))
def test_what_has_been_worked_out_may_be_forgotten_and_comes_out_the_same(one, two, width, height):
    shapes = [Shape(((0, one),)), Shape(((0, two),))]
    keeping, forgetting = (Raster(order_of(shapes, width, height), shapes, 0) for _ in range(2))
    forgetting.most_bits = 1
    pairs = [(0, 1), (1, 0), (0, 0), (0, 1), (1, 1), (1, 0)]
    assert [keeping.meetings(*pair, Work(0)) for pair in pairs] == [
        forgetting.meetings(*pair, Work(0)) for pair in pairs
    ]
    assert (len(keeping.kept), len(forgetting.kept)) == (4, 1)


def test_a_sheet_has_only_whole_cells():
    order = Order((Box(10, 10),), (1,), (Bed(19, 24),))
    raster = Raster(order, [Shape(((0, Cells(2, 2, (3, 3))),))], 0, 5)
    assert (raster.width, raster.height) == (3, 4)


def test_work_grows_with_the_sheet():
    steps = []
    for side in (100, 1000):
        shape = Shape(((0, Cells(3, 3, (7, 7, 7))),))
        work = Work(0)
        Sheet(Raster(order_of([shape], side, side), [shape], 0), work).free_place(
            0, Corner.LOW_LEFT
        )
        steps.append(work.spent)
    assert steps[1] >= 10 * steps[0]
