"""Sheets whose parts are moved down, so that what is left is one piece."""

from hypothesis import given, settings
from hypothesis import strategies as st
from notched_album import GAP, notched_album, parts
from outline_judge import wrong_on_outline_sheet, wrong_turns

from dielines.packing.order import Bed, Leaf, Order, Pattern, Placed, Work
from dielines.packing.outlines.filler import Wish, filled
from dielines.packing.outlines.raster import Corner, rasters_of
from dielines.packing.outlines.tidying import tidied

PAGE, LEAF, HINGE, EDGE, GUARD, MAT = range(6)
RINGS = [[[(x * 16, y * 16) for x, y in ring]] for ring, _, _ in parts(8)]
ORDER, SHAPES = notched_album(8, 1, 24)
RASTERS = rasters_of(ORDER, SHAPES)


def top(order, pattern):
    return max(p.y + order.boxes[p.kind].lying(p.quarters)[1] for p in pattern.placed)


@settings(max_examples=60)
@given(st.lists(st.tuples(st.integers(0, 5), st.sampled_from(Corner)), min_size=1, max_size=14))
def test_the_same_parts_lie_lower_and_still_apart(wishes):
    found = filled(RASTERS(0), [Wish(*wish) for wish in wishes], Work(0))
    pattern = Pattern(0, found.placed)
    tidy = tidied(ORDER, pattern, RASTERS(0), Work(0))
    assert tidy.counts(6) == pattern.counts(6)
    assert top(ORDER, tidy) <= top(ORDER, pattern)
    assert wrong_on_outline_sheet(RINGS, ORDER, tidy, 1, GAP) == []
    assert wrong_turns(SHAPES, ORDER, tidy) == []


def test_a_part_alone_goes_to_the_lower_left():
    pattern = Pattern(0, (Placed(HINGE, 100, 200),))
    assert tidied(ORDER, pattern, RASTERS(0), Work(0)).placed == (Placed(HINGE, 0, 0),)


def test_four_mats_around_a_middle_close_up():
    # laid down anew one by one they would not all find room, so they sink as they are
    order, shapes = notched_album(8, 1, 12)
    raster = rasters_of(order, shapes)(0)
    spread = Pattern(
        0, (Placed(MAT, 86, 118, 1), Placed(MAT, 0, 0, 1), Placed(MAT, 118, 0), Placed(MAT, 0, 86))
    )
    tidy = tidied(order, spread, raster, Work(0))
    assert (top(order, spread), top(order, tidy)) == (186, 168)
    assert wrong_on_outline_sheet(RINGS, order, tidy, 1, GAP) == []


def test_a_sheet_that_is_cut_from_edge_to_edge_stays_as_it_is():
    pattern = Pattern(0, (Placed(HINGE, 100, 200),), Leaf(HINGE))
    assert tidied(ORDER, pattern, RASTERS(0), Work(0)) is pattern


def test_parts_that_lie_off_the_grid_stay_unless_they_lie_lower_on_it():
    finer = Order(
        tuple(b._replace(width=5 * b.width, height=5 * b.height) for b in ORDER.boxes),
        ORDER.counts,
        (Bed(5 * 22 + 4, 5 * 140),),
    )
    raster = rasters_of(finer, SHAPES, 5)(0)
    stacked = Pattern(0, (Placed(HINGE, 3, 0), Placed(HINGE, 1, 350)))
    assert tidied(finer, stacked, raster, Work(0)) == stacked
    raised = Pattern(0, (Placed(HINGE, 3, 0), Placed(HINGE, 1, 351)))
    assert tidied(finer, raised, raster, Work(0)).placed == (
        Placed(HINGE, 0, 0),
        Placed(HINGE, 0, 350),
    )
