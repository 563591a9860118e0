"""Outlines laid down so that the others still find room."""

from notched_album import GAP, notched_album, parts
from outline_judge import wrong_on_outline_sheet, wrong_turns

from dielines.packing.order import Pattern, Work
from dielines.packing.outlines.filler import outline_filler
from dielines.packing.outlines.foresight import foreseeing_filler

PAGE, LEAF, HINGE, EDGE, GUARD, MAT = range(6)
RINGS = [[[(x * 16, y * 16) for x, y in ring]] for ring, _, _ in parts(8)]


def test_a_page_goes_where_its_notch_lets_a_mat_in():
    order, shapes = notched_album(8, 1)
    kinds = [PAGE, MAT, HINGE, HINGE]
    assert outline_filler(order, shapes)(kinds, 0, Work(0)).left == (1,)
    found = foreseeing_filler(order, shapes)(kinds, 0, Work(0))
    assert found.left == ()
    pattern = Pattern(0, found.placed)
    assert wrong_on_outline_sheet(RINGS, order, pattern, 1, GAP) == []
    assert wrong_turns(shapes, order, pattern) == []


def test_what_is_left_is_told_by_its_position_once():
    order, shapes = notched_album(8, 1)
    kinds = [LEAF, PAGE, LEAF, LEAF, MAT, PAGE, HINGE]
    found = foreseeing_filler(order, shapes)(kinds, 0, Work(0))
    left = [kinds[position] for position in found.left]
    assert sorted(left + [part.kind for part in found.placed]) == sorted(kinds)
    assert list(found.left) == sorted(set(found.left))


def test_the_first_in_the_list_goes_first_whatever_the_others_lose():
    order, shapes = notched_album(8, 1)
    found = foreseeing_filler(order, shapes)([LEAF, LEAF, PAGE], 0, Work(0))
    assert [part.kind for part in found.placed] == [LEAF, LEAF]
