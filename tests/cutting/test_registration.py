"""Registration marks lie in what falls off, near three corners of what the machine reaches."""

from __future__ import annotations

import math

import pytest
from shapely import LineString, Polygon, box, union_all

from dielines.cutting.registration import ARMS, CLEAR, registration_marks
from dielines.drawing import Drawing, Group, Item, Layer
from dielines.errors import UsageError
from dielines.paths import Bounds, circle, flattened, line, rectangle

REACH = Bounds(6.35, 6.35, 298.45, 298.45)


def sheet(*items: Item) -> Drawing:
    return Drawing(304.8, 304.8, (Group("a", "A", items),), title="sheet 1")


def cut(path) -> Item:
    return Item(Layer.CUT, path)


def middles(group: Group) -> list[tuple[float, float]]:
    paths = [item.path for item in group.items]
    return [
        (float(across.points[0].x + across.points[1].x) / 2, float(across.points[0].y))
        for across in paths[::2]
    ]


def ink(group: Group):
    return union_all([LineString(flattened(item.path)) for item in group.items])


def test_an_empty_sheet_has_three_crosses_in_its_corners_of_the_reach():
    marks = registration_marks(sheet(), REACH)
    arm = ARMS[0]
    low, high = 6.35 + arm, 298.45 - arm
    assert [pytest.approx(place) for place in middles(marks)] == [
        (low, low),
        (high, low),
        (low, high),
    ]
    assert {item.layer for item in marks.items} == {Layer.MARK}
    assert ink(marks).bounds == pytest.approx(REACH)


def test_no_half_turn_and_no_turning_over_lays_the_marks_on_one_another():
    places = middles(registration_marks(sheet(), REACH))
    for turned in (
        [(304.8 - x, 304.8 - y) for x, y in places],
        [(304.8 - x, y) for x, y in places],
    ):
        assert max(min(math.dist(a, b) for b in places) for a in turned) > 200


def test_marks_keep_off_parts_and_slits_and_stay_within_reach():
    parts = [
        rectangle(6.35, 6.35, 100, 120 + 1 / 7),
        rectangle(290, 60, 298.45, 90),
        circle((60, 250), 48),
    ]
    slit = cut(line((150, 8), (298, 12 + 1 / 3)))
    marks = registration_marks(sheet(*map(cut, parts), slit), REACH)
    assert len(middles(marks)) == 3
    for part in parts:
        assert ink(marks).distance(Polygon(flattened(part))) >= CLEAR - 0.02
    assert ink(marks).distance(LineString(flattened(slit.path))) >= CLEAR - 0.02
    assert box(*REACH).buffer(0.01).contains(ink(marks))


def test_a_mark_is_as_near_to_its_corner_as_the_parts_let_it_be():
    part = rectangle(6.35, 6.35, 150, 150)
    first = middles(registration_marks(sheet(cut(part)), REACH))[0]
    beside = (150 + CLEAR + ARMS[0], 6.35 + ARMS[0])
    assert sorted(first) == pytest.approx(sorted(beside), abs=0.02)


def test_in_narrow_gaps_marks_are_smaller():
    halves = [rectangle(6.35, 6.35, 150.8, 298.45), rectangle(150.8 + 3.175, 6.35, 298.45, 298.45)]
    marks = registration_marks(sheet(*map(cut, halves)), REACH)
    assert len(middles(marks)) == 2
    widths = [float(i.path.points[1].x - i.path.points[0].x) for i in marks.items[::2]]
    assert widths == pytest.approx([2 * ARMS[-1]] * 2)
    assert all(ink(marks).distance(Polygon(flattened(half))) >= CLEAR - 0.02 for half in halves)


def test_a_full_sheet_has_no_room_and_says_so():
    with pytest.raises(UsageError) as error:
        registration_marks(sheet(cut(rectangle(*REACH))), REACH)
    assert str(error.value).startswith("sheet 1: ")
    with pytest.raises(UsageError):
        registration_marks(sheet(), Bounds(0, 0, 1.9, 300))


def test_the_same_sheet_has_the_same_marks_in_whole_hundredths():
    parts = (cut(circle((20, 10), 38 + 1 / 3)), cut(circle((290, 20), 47 + 1 / 7)))
    one, two = (registration_marks(sheet(*parts), REACH) for _ in range(2))
    assert one == two
    values = [round(value, 9) for place in middles(one) for value in place]
    assert [round(value, 2) for value in values] == values
