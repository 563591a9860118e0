"""The steps for a person: followed with paper that knows its size and letter only."""

from collections import Counter
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from dielines.packing.guillotine.shelves import guillotine_filler
from dielines.packing.guillotine.trimming import Margins, Purpose, cut_steps, offcuts
from dielines.packing.order import Bed, Box, Cut, Leaf, Order, Pattern, Placed, Way, Work


class NotSo(Exception):
    """The steps say what is not so."""


def followed(steps, width, height):
    """Return all finished pieces, by doing what the steps say with a sheet of paper."""
    on_the_table, finished = {"A": (width, height)}, []
    for step in steps:
        for stroke in step.strokes:
            size = on_the_table.pop(stroke.piece.letter)
            must_be(size, stroke.piece)
            for half, piece in zip(halves(step, *size), (stroke.near, stroke.far), strict=True):
                must_be(half, piece)
                if piece.letter is None:
                    finished.append(piece)
                elif on_the_table.setdefault(piece.letter, half) is not half:
                    raise NotSo(f"two pieces {piece.letter}")
    if steps and on_the_table:
        raise NotSo(f"left on the table: {on_the_table}")
    return finished


def must_be(size, piece):
    if size != (piece.width, piece.height):
        raise NotSo(f"{piece} is {size}")


def halves(step, wide, high):
    """Return the two pieces that one stroke of the blade makes."""
    if not 0 < step.fence < (wide if step.way is Way.UPRIGHT else high):
        raise NotSo(f"fence at {step.fence} for {wide} x {high}")
    if step.way is Way.UPRIGHT:
        return [(step.fence, high), (wide - step.fence, high)]
    return [(wide, step.fence), (wide, high - step.fence)]


@st.composite
def sheets(draw):
    """A sheet with margins and a gap, and boxes for it, gap included, as the orders have them."""
    gap = draw(st.integers(0, 3))
    box = st.builds(Box, st.integers(1 + gap, 50), st.integers(1 + gap, 50), st.booleans())
    boxes = tuple(draw(st.lists(box, min_size=1, max_size=7)))
    counts = tuple(draw(st.integers(0, 4)) for _ in boxes)
    bed = Bed(draw(st.integers(20, 90)) + gap, draw(st.integers(20, 90)) + gap)
    margins = Margins(*(draw(st.integers(0, 5)) for _ in range(4)))
    return Order(boxes, counts, (bed,)), margins, gap


def filled(order, stages):
    kinds = [kind for kind, count in enumerate(order.counts) for _ in range(count)]
    found = guillotine_filler(order, stages)(kinds, 0, Work(10**6))
    return Pattern(0, found.placed, found.cuts)


@settings(max_examples=387, deadline=None)
@given(sheets(), st.sampled_from([2, 3, None]))
def test_whoever_follows_the_steps_has_the_parts_in_hand(sheet, stages):
    order, margins, gap = sheet
    pattern = filled(order, stages)
    bed = order.beds[0]
    steps = cut_steps(pattern, order, margins, gap)
    width = bed.width - gap + margins.left + margins.right
    height = bed.height - gap + margins.lower + margins.upper
    pieces = followed(steps, width, height)
    if not steps:
        return
    wanted = Counter()
    for placed in pattern.placed:
        wide, high = order.boxes[placed.kind].lying(placed.quarters)
        wanted[(placed.kind, wide - gap, high - gap)] += 1
    found = Counter((p.kind, p.width, p.height) for p in pieces if p.kind is not None)
    assert found == wanted
    assert sum(p.width * p.height for p in pieces) == width * height
    assert [step.number for step in steps] == list(range(1, len(steps) + 1))


@settings(max_examples=150, deadline=None)
@given(sheets(), st.sampled_from([2, 3]))
def test_stages_never_go_back_and_only_trims_pass_the_limit(sheet, stages):
    order, margins, _ = sheet
    steps = cut_steps(filled(order, stages), order, margins)
    assert [step.stage for step in steps] == sorted(step.stage for step in steps)
    assert all(step.stage <= stages for step in steps if step.purpose is Purpose.PART)
    assert all(step.stage <= stages + 1 for step in steps)
    assert all((step.stage == 0) == (step.purpose is Purpose.MARGIN) for step in steps)


@settings(max_examples=150, deadline=None)
@given(sheets())
def test_no_two_steps_that_follow_one_another_have_the_same_setting(sheet):
    order, margins, gap = sheet
    steps = cut_steps(filled(order, 3), order, margins, gap)
    settings_of = [(step.way, step.fence, step.stage, step.purpose) for step in steps]
    assert all(one != two for one, two in pairwise(settings_of))


def six_equal():
    """Two rows of three, in sixteenths of an inch, on a sheet with something left all round."""
    order = Order((Box(67, 35),), (6,), (Bed(211, 73),))
    return order, filled(order, 3)


def test_equal_cuts_are_made_with_one_setting_of_the_fence():
    order, pattern = six_equal()
    steps = cut_steps(pattern, order)
    assert sum(len(step.strokes) for step in steps) in (7, 8)
    assert [(step.way, step.fence) for step in steps] in (
        [(Way.LEVEL, 35), (Way.UPRIGHT, 67)],
        [(Way.UPRIGHT, 67), (Way.LEVEL, 35)],
        [(Way.LEVEL, 70), (Way.UPRIGHT, 67), (Way.LEVEL, 35)],
        [(Way.UPRIGHT, 201), (Way.LEVEL, 35), (Way.UPRIGHT, 67)],
    )


def test_margins_are_cut_first_but_not_where_an_offcut_takes_them_along():
    order, pattern = six_equal()
    free = cut_steps(pattern, order, Margins(4, 5, 6, 7))
    assert [(s.way, s.fence) for s in free[:2]] == [(Way.UPRIGHT, 4), (Way.LEVEL, 5)]
    assert [s.purpose for s in free].count(Purpose.MARGIN) == 2
    tight = Order(order.boxes, order.counts, (Bed(201, 70),))
    steps = cut_steps(filled(tight, 3), tight, Margins(4, 5, 6, 7))
    assert [(s.purpose, s.way, s.fence) for s in steps[:4]] == [
        (Purpose.MARGIN, Way.UPRIGHT, 4),
        (Purpose.MARGIN, Way.UPRIGHT, 201),
        (Purpose.MARGIN, Way.LEVEL, 5),
        (Purpose.MARGIN, Way.LEVEL, 70),
    ]


def three_and_trim():
    """A box that is narrower than the pile of its row: the fourth way is a trim."""
    boxes = (Box(17, 6), Box(9, 30), Box(8, 17), Box(7, 13))
    order = Order(boxes, (1, 1, 1, 1), (Bed(17, 36),))
    row = Cut(Way.UPRIGHT, 9, Leaf(1), Cut(Way.LEVEL, 17, Leaf(2), Leaf(3)))
    placed = (Placed(0, 0, 0), Placed(1, 0, 6), Placed(2, 9, 6), Placed(3, 9, 23))
    return order, Pattern(0, placed, Cut(Way.LEVEL, 6, Leaf(0), row))


def test_a_trim_is_told_as_such():
    order, pattern = three_and_trim()
    steps = cut_steps(pattern, order)
    assert [(s.purpose, s.stage, s.fence) for s in steps] == [
        (Purpose.PART, 1, 6),
        (Purpose.PART, 2, 9),
        (Purpose.PART, 3, 17),
        (Purpose.TRIM, 4, 7),
    ]
    assert steps[3].longest == 13


def test_letters_go_on_after_z():
    order = Order((Box(2, 3), Box(2, 4)), (40, 40), (Bed(2 * 40, 7),))
    pile = Cut(Way.LEVEL, 3, Leaf(0), Leaf(1))
    row = pile
    for _ in range(39):
        row = Cut(Way.UPRIGHT, 2, pile, row)
    placed = [(Placed(0, 2 * n, 0), Placed(1, 2 * n, 3)) for n in range(40)]
    steps = cut_steps(Pattern(0, tuple(box for pair in placed for box in pair), row), order)
    letters = {stroke.piece.letter for step in steps for stroke in step.strokes}
    assert {"A", "Z", "AA", "AN"} <= letters
    assert len(letters) == 40
    assert len(followed(steps, 80, 7)) == 80


def test_a_pattern_without_cuts_is_refused():
    with pytest.raises(ValueError, match="no cuts"):
        cut_steps(Pattern(0, (Placed(0, 0, 0),)), Order((Box(1, 1),), (1,), (Bed(2, 2),)))


def test_offcuts_are_all_that_is_no_box_the_largest_first():
    order, pattern = six_equal()
    steps = cut_steps(pattern, order)
    left = offcuts(steps)
    areas = [piece.width * piece.height for piece in left]
    assert areas == sorted(areas, reverse=True)
    assert sum(areas) == 211 * 73 - 6 * 67 * 35


def test_a_row_of_thousands_is_cut_without_end_of_patience():
    """Rows are walked, not nested: strips of a unit, as many as the sheet is wide."""
    order = Order((Box(1, 5),), (3000,), (Bed(3000, 7),))
    pattern = filled(order, 3)
    assert len(pattern.placed) == 3000
    (above, apart) = cut_steps(pattern, order)
    assert (above.fence, apart.fence, len(apart.strokes)) == (5, 1, 2999)


def test_what_holds_no_box_is_not_cut_further():
    """As where boxes were taken off a pattern: cuts that part nothing but offcuts are not told."""
    waste = Cut(Way.UPRIGHT, 3, Leaf(None), Cut(Way.LEVEL, 2, Leaf(None), Leaf(None)))
    order = Order((Box(5, 9),), (1,), (Bed(17, 9),))
    steps = cut_steps(Pattern(0, (Placed(0, 0, 0),), Cut(Way.UPRIGHT, 5, Leaf(0), waste)), order)
    assert [(step.fence, len(step.strokes)) for step in steps] == [(5, 1)]
    assert offcuts(steps)[0][:2] == (12, 9)
