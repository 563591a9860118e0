"""The order of cutting: what comes before what, nothing lost, and the same every time."""

import subprocess
import sys
from dataclasses import replace
from fractions import Fraction

import pytest
from cutting_judge import lifted_travel, lost_or_added, shape_of, wrong_in_order
from random_sheets import nested_sheet, random_sheet

from dielines.cutting.in_cutting_order import in_cutting_order
from dielines.cutting.precedence import SIZES
from dielines.cutting.travel import travel
from dielines.drawing import Caption, Drawing, Group, Item, Layer
from dielines.formats.choices import Choices, Grouping
from dielines.formats.compare import compare
from dielines.formats.kinds import formats
from dielines.paths import Point, line, rectangle

SEVENTH = Fraction(1, 7)


def of_every_layer() -> Drawing:
    """Two parts with a path on every layer, in an order that is wrong throughout."""

    def part(left: int) -> tuple[Item, ...]:
        inside = [
            Item(layer, line((left + 5 + SEVENTH, y), (left + 30, y + SEVENTH)), layer.value)
            for y, layer in enumerate((x for x in Layer if x is not Layer.CUT), 4)
        ]
        slit = Item(Layer.CUT, line((left + 9, 20), (left + 9, 30)), "slit")
        return (Item(Layer.CUT, rectangle(left, 0, left + 40, 50), "outline"), slit, *inside)

    text = Caption(Layer.LABEL, "A", Point(3, 4), 2.5)
    return Drawing(100, 60, (Group("a", "A page 1", part(1), (text,)), Group("b", "", part(51))))


@pytest.mark.parametrize("steps", [0, 400])
@pytest.mark.parametrize("seed", range(6))
def test_what_has_to_be_done_first_comes_first(seed, steps):
    drawing = random_sheet(seed, 3 + seed % 3, 4)
    ordered = in_cutting_order(drawing, steps)
    assert wrong_in_order(ordered, SIZES) == []
    assert not lost_or_added(drawing, ordered)


@pytest.mark.parametrize("deep", [1, 2, 5])
@pytest.mark.parametrize("seed", range(4))
def test_parts_in_openings_of_parts_come_before_these_to_any_depth(seed, deep):
    drawing = nested_sheet(seed, deep)
    ordered = in_cutting_order(drawing, 100)
    assert wrong_in_order(ordered, SIZES) == []
    assert not lost_or_added(drawing, ordered)


def test_the_judge_sees_a_wrong_order():
    drawing = random_sheet(1, 3, 3)
    backwards = replace(
        in_cutting_order(drawing, 0), groups=in_cutting_order(drawing, 0).groups[::-1]
    )
    assert wrong_in_order(backwards, SIZES)
    group = in_cutting_order(drawing, 0).groups[-1]
    turned = replace(drawing, groups=(replace(group, items=group.items[::-1]),))
    assert wrong_in_order(turned, SIZES)


def test_one_group_for_each_layer_drawing_before_scores_before_cuts():
    ordered = in_cutting_order(of_every_layer(), 50)
    assert [{item.layer for item in group.items} for group in ordered.groups] == [
        {Layer.LABEL}, {Layer.MARK}, {Layer.TAPE_REVERSE}, {Layer.TAPE_FACE},
        {Layer.SCORE_MOUNTAIN}, {Layer.SCORE_VALLEY}, {Layer.PERFORATE}, {Layer.CUT},
    ]  # fmt: skip


def test_names_tell_the_part_and_captions_stay():
    ordered = in_cutting_order(of_every_layer(), 50)
    assert {item.name for item in ordered.groups[-1].items} == {
        "A page 1: outline", "A page 1: slit", "outline", "slit",
    }  # fmt: skip
    assert [text.text for text in ordered.groups[0].captions] == ["A"]


def test_a_label_that_is_only_text_keeps_its_group():
    text = Caption(Layer.LABEL, "A", Point(3, 4), 2.5)
    cut = Item(Layer.CUT, rectangle(0, 0, 9, 9))
    ordered = in_cutting_order(Drawing(9, 9, (Group("a", "A", (cut,), (text,)),)))
    assert [(len(g.items), len(g.captions)) for g in ordered.groups] == [(0, 1), (1, 0)]


def test_an_empty_drawing_stays_empty():
    assert in_cutting_order(Drawing(10, 10, ())).groups == ()


def test_coordinates_stay_exact():
    drawing = of_every_layer()
    places = {vertex.point for item in drawing.items() for vertex in item.path.vertices}
    ordered = in_cutting_order(drawing, 100)
    found = {vertex.point for item in ordered.items() for vertex in item.path.vertices}
    assert found == places
    assert {type(x) for point in found for x in point} <= {int, Fraction}


def test_more_steps_travel_less_and_none_more_than_as_drawn():
    drawing = random_sheet(11, 5, 5)
    as_drawn, quick, usual, long = (
        lifted_travel(d)
        for d in (drawing, *(in_cutting_order(drawing, n) for n in (0, 1000, 6000)))
    )
    assert as_drawn > quick > usual >= long


#: What 100,000 steps for each path travel between scores, inner cuts and outlines, mm.
LONG_RUNS = {(1, 5, 5): (1169.3, 1144.0, 815.2), (1, 5, 10): (1670.7, 1629.6, 1051.7)}


@pytest.mark.parametrize("key", LONG_RUNS)
def test_full_sheets_travel_little_more_than_after_a_long_run(key):
    ordered = in_cutting_order(random_sheet(*key))
    scores, cuts = ordered.groups
    kinds = [
        scores.items,
        [item for item in cuts.items if "outline" not in item.name],
        [item for item in cuts.items if "outline" in item.name],
    ]
    for items, long in zip(kinds, LONG_RUNS[key], strict=True):
        alone = replace(ordered, groups=(replace(scores, items=tuple(items)),))
        assert lifted_travel(alone) <= 1.05 * long
    assert lifted_travel(ordered) <= 1.03 * (sum(LONG_RUNS[key]) + 2 * 304.8)


@pytest.mark.parametrize("x", [-10, 210])
def test_scores_end_near_the_first_cut(x):
    scores = [Item(Layer.SCORE_VALLEY, line((at, 0), (at, SEVENTH))) for at in (0, 100, 200)]
    cut = Item(Layer.CUT, rectangle(x, 0, x + SEVENTH, SEVENTH))
    ordered = in_cutting_order(Drawing(300, 9, (Group("a", "", (*scores, cut)),)))
    assert lifted_travel(ordered) < 211


def test_travel_is_the_way_between_paths():
    drawing = random_sheet(5, 3, 3)
    assert travel(drawing) == pytest.approx(lifted_travel(drawing))
    rows = [Item(Layer.CUT, line((0, y), (7 * SEVENTH, y + SEVENTH))) for y in (0, 3)]
    square = Item(Layer.CUT, rectangle(0, 3, 4, 7))
    assert travel(Drawing(9, 9, (Group("a", "", (rows[0], square, rows[1])),))) == pytest.approx(
        (1 + (3 - 1 / 7) ** 2) ** 0.5
    )


@pytest.mark.parametrize("kind", formats(), ids=lambda kind: kind.name)
@pytest.mark.parametrize("grouping", Grouping)
def test_files_keep_the_order_whatever_groups_them(kind, grouping):
    ordered = in_cutting_order(random_sheet(3, 3, 3), 200)
    read = kind.read(kind.write(ordered, Choices(grouping=grouping)), "x").drawing
    assert compare(ordered, read).has_equal_paths(0.001)
    wanted = [(item.layer, item.name) for item in ordered.items()]
    assert [(item.layer, item.name) for item in read.items()] == wanted
    starts = [item.path.vertices[0].point for item in ordered.items()]
    for item, (x, y) in zip(read.items(), starts, strict=True):
        assert item.path.vertices[0].point == pytest.approx((float(x), float(y)), abs=0.001)


@pytest.mark.parametrize("kind", formats(), ids=lambda kind: kind.name)
def test_parts_first_keeps_the_order_even_where_a_machine_names_cuts_first(kind):
    ordered = in_cutting_order(random_sheet(3, 2, 3), 50)
    choices = Choices(grouping=Grouping.PART_THEN_LAYER, layer_order=(Layer.CUT,))
    read = kind.read(kind.write(ordered, choices), "x").drawing
    assert [item.layer for item in read.items()] == [item.layer for item in ordered.items()]


def test_another_process_with_other_hashes_orders_alike():
    code = (
        "import sys; sys.path.insert(0, 'tests/workbench'); "
        "from random_sheets import random_sheet; "
        "from dielines.cutting.in_cutting_order import in_cutting_order; "
        "print(in_cutting_order(random_sheet(7, 4, 4), 300))"
    )
    texts = {
        subprocess.run(
            [sys.executable, "-c", code], capture_output=True, check=True, text=True,
            env={"PYTHONHASHSEED": seed},
        ).stdout
        for seed in ("1", "2")
    }  # fmt: skip
    assert len(texts) == 1
    assert texts == {f"{in_cutting_order(random_sheet(7, 4, 4), 300)}\n"}


def test_the_same_shape_is_known_from_any_start():
    box = rectangle(0, 0, 3, 5)
    assert shape_of(box) == shape_of(replace(box, vertices=box.vertices[2:] + box.vertices[:2]))
    assert shape_of(box) != shape_of(rectangle(0, 0, 3, 5 + SEVENTH))
