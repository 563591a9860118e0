"""Comparing finds what differs, where and by how much, and why when it is a unit."""

import random
from dataclasses import replace
from fractions import Fraction

import pytest

from dielines.drawing import Caption, Drawing, Group, Item, Layer
from dielines.formats import matching
from dielines.formats.compare import compare, scaled, without_layers
from dielines.formats.misreadings import MISREADINGS
from dielines.paths import (
    Path,
    Point,
    Vertex,
    circle,
    line,
    polyline,
    rectangle,
    reversed_path,
    translated,
)


def part(key, x, *more):
    x = Fraction(x)
    items = (
        Item(Layer.CUT, rectangle(x, 0, x + Fraction(100, 3), Fraction(360, 7)), "outline"),
        Item(Layer.CUT, circle((x + 10, 20), Fraction(22, 7)), "hole"),
        Item(Layer.SCORE_VALLEY, line((x + 3, 0), (x + 3, 50)), "fold"),
        *more,
    )
    return Group(key, key, items, (Caption(Layer.LABEL, key, Point(x, 0), 3.0),))


SHEET = Drawing(304.8, 304.8, (part("one", 0), part("two", 50), part("three", Fraction(700, 6))))


def changed(drawing, group, item, path):
    """Return *drawing* with one path put in another's place."""
    groups = list(drawing.groups)
    items = list(groups[group].items)
    items[item] = replace(items[item], path=path)
    groups[group] = replace(groups[group], items=tuple(items))
    return replace(drawing, groups=tuple(groups))


def without(drawing, group, item):
    groups = list(drawing.groups)
    items = groups[group].items
    groups[group] = replace(groups[group], items=items[:item] + items[item + 1 :])
    return replace(drawing, groups=tuple(groups))


def row(result, layer):
    return next(row for row in result.rows if row.layer is layer)


def test_a_drawing_equals_itself():
    result = compare(SHEET, SHEET)
    assert result.is_equal(0)
    assert [(r.layer, r.written, r.read) for r in result.rows] == [
        (Layer.CUT, 6, 6), (Layer.SCORE_VALLEY, 3, 3),
    ]  # fmt: skip
    assert (result.misreading, result.moved) == (None, None)


def test_empty_drawings_are_equal_and_not_equal_to_others():
    empty = Drawing(304.8, 304.8, ())
    assert compare(empty, empty).is_equal(0)
    assert not compare(SHEET, empty).is_equal(1e9)
    assert not compare(empty, SHEET).is_equal(1e9)


@pytest.mark.parametrize("off", [0.0007, 0.07, 1.7])
def test_a_path_that_is_off_is_found_on_its_layer_with_its_deviation(off):
    hole = SHEET.groups[1].items[1].path
    result = compare(SHEET, changed(SHEET, 1, 1, translated(hole, off, 0)))
    assert result.largest_deviation == pytest.approx(off)
    assert row(result, Layer.CUT).largest_deviation == pytest.approx(off)
    assert row(result, Layer.SCORE_VALLEY).largest_deviation == 0
    assert result.is_equal(off + 1e-9)
    assert not result.is_equal(off - 1e-9)


def test_a_path_out_of_reach_is_one_missing_and_one_extra():
    fold = SHEET.groups[0].items[2].path
    result = compare(SHEET, changed(SHEET, 0, 2, translated(fold, matching.REACH + 0.1, 0)))
    found = row(result, Layer.SCORE_VALLEY)
    assert ([i.name for i in found.missing], len(found.extra)) == (["fold"], 1)
    assert not result.has_equal_paths(1e9)


@pytest.mark.parametrize("item", [0, 1, 2])
def test_a_missing_path_is_named_and_disturbs_no_other(item):
    result = compare(SHEET, without(SHEET, 1, item))
    missing = [i for r in result.rows for i in r.missing]
    assert missing == [SHEET.groups[1].items[item]]
    assert (result.largest_deviation, [r.extra for r in result.rows]) == (0, [(), ()])
    assert not result.is_equal(1e9)


def test_an_extra_path_is_named():
    extra = Item(Layer.PERFORATE, circle((200, 200), 1))
    result = compare(SHEET, replace(SHEET, groups=(*SHEET.groups, Group("more", "", (extra,)))))
    assert row(result, Layer.PERFORATE).extra == (extra,)
    assert not result.is_equal(1e9)


def test_a_path_on_another_layer_is_missing_there_unless_layers_do_not_count():
    groups = list(SHEET.groups)
    items = groups[0].items
    groups[0] = replace(groups[0], items=(replace(items[0], layer=Layer.MARK), *items[1:]))
    other = replace(SHEET, groups=tuple(groups))
    result = compare(SHEET, other)
    assert (len(row(result, Layer.CUT).missing), len(row(result, Layer.MARK).extra)) == (1, 1)
    assert compare(without_layers(SHEET), without_layers(other)).is_equal(0)


def test_open_and_closed_are_told_apart_even_where_the_lines_are_the_same():
    outline = SHEET.groups[0].items[0].path
    opened = Path((*outline.vertices, outline.vertices[0]), closed=False)
    result = compare(SHEET, changed(SHEET, 0, 0, opened))
    assert [i.name for i in row(result, Layer.CUT).differently_closed] == ["outline"]
    assert result.largest_deviation == pytest.approx(0, abs=1e-12)
    assert not result.has_equal_paths(1)


def test_the_page_counts_but_not_for_the_paths():
    result = compare(SHEET, replace(SHEET, width=304.8 + 0.003))
    assert result.page_deviation == pytest.approx(0.003)
    assert (result.has_equal_paths(0), result.is_equal(0.002), result.is_equal(0.004)) == (
        True,
        False,
        True,
    )


def test_captions_do_not_count():
    groups = tuple(replace(group, captions=()) for group in SHEET.groups)
    assert compare(SHEET, replace(SHEET, groups=groups)).is_equal(0)


@pytest.mark.parametrize("seed", range(5))
def test_order_parts_starts_and_directions_make_no_difference(seed):
    luck = random.Random(seed)
    items = list(SHEET.items())
    luck.shuffle(items)
    for i, item in enumerate(items):
        path = item.path
        if path.closed:
            steps = luck.randrange(len(path.vertices))
            path = replace(path, vertices=path.vertices[steps:] + path.vertices[:steps])
        items[i] = replace(item, path=reversed_path(path) if luck.random() < 0.5 else path)
    other = replace(SHEET, groups=(Group("drawing", "", tuple(items)),))
    for result in (compare(SHEET, other), compare(other, SHEET)):
        assert result.is_equal(1e-9)


def test_small_paths_side_by_side_are_not_taken_for_one_another():
    holes = [Item(Layer.CUT, circle((Fraction(x, 2), 5), Fraction(1, 5))) for x in range(40)]
    one = Drawing(50.0, 50.0, (Group("a", "", tuple(holes)),))
    other = Drawing(50.0, 50.0, (Group("a", "", tuple(reversed(holes))),))
    assert compare(one, other).is_equal(0)
    moved = replace(other, groups=(Group("a", "", (*holes[5:], *holes[:4])),))
    result = compare(one, moved)
    assert (row(result, Layer.CUT).missing, result.largest_deviation) == ((holes[4],), 0)


def test_paths_drawn_twice_are_counted():
    double = replace(SHEET, groups=(part("one", 0, SHEET.groups[0].items[1]), *SHEET.groups[1:]))
    result = compare(SHEET, double)
    assert [i.name for i in row(result, Layer.CUT).extra] == ["hole"]
    assert compare(double, double).is_equal(0)


NAMED = {"96/72": 96 / 72, "72/96": 72 / 96, "96/90": 96 / 90, "90/96": 90 / 96, "90/72": 90 / 72, "72/90": 72 / 90, "25.4": 25.4, "1/25.4": 1 / 25.4}  # fmt: skip


@pytest.mark.parametrize("name", NAMED)
@pytest.mark.parametrize(
    "drawing",
    [SHEET, Drawing(30.0, 30.0, (Group("a", "", (Item(Layer.CUT, rectangle(1, 1, 16, 16)),)),))],
)
def test_a_drawing_that_is_too_large_by_the_ratio_of_two_units_is_told_so(drawing, name):
    result = compare(drawing, scaled(drawing, NAMED[name]))
    assert result.misreading is not None
    assert (result.misreading.name, float(result.misreading.factor)) == (name, NAMED[name])
    assert not result.has_equal_paths(0.1)


def test_a_misread_drawing_is_known_though_a_path_is_missing_and_it_lies_elsewhere():
    other = without(scaled(SHEET, 96 / 72, dx=31.7, dy=-5), 2, 1)
    assert compare(SHEET, other).misreading.name == "96/72"


@pytest.mark.parametrize("factor", [1.02, 1.4, 3.3])
def test_no_unit_is_blamed_for_any_other_ratio(factor):
    result = compare(SHEET, scaled(SHEET, factor))
    assert (result.misreading, result.moved) == (None, None)
    assert not result.is_equal(0.1)


def test_no_unit_is_blamed_when_only_the_extent_fits():
    other = Drawing(1.0, 1.0, (Group("a", "", (Item(Layer.CUT, rectangle(0, 0, 200, 480 / 7)),)),))
    bounds_ratio = 200 / (700 / 6 + 100 / 3)
    assert bounds_ratio == pytest.approx(96 / 72)
    assert compare(SHEET, other).misreading is None


def test_a_drawing_that_lies_elsewhere_is_told_so():
    result = compare(SHEET, scaled(SHEET, 1, dx=31.7, dy=-5.25))
    assert result.moved == pytest.approx((31.7, -5.25))
    assert not result.is_equal(0.1)


def test_every_misreading_is_found_by_its_factor():
    for kind in MISREADINGS:
        assert compare(SHEET, scaled(SHEET, float(kind.factor))).misreading.factor == kind.factor


def test_the_work_grows_with_the_number_of_paths_not_with_its_square(monkeypatch):
    tried = []
    real = matching.deviation
    monkeypatch.setattr(matching, "deviation", lambda a, b: tried.append(1) or real(a, b))

    def heap(count, shift):  # all in one place, none the same: the worst case
        items = tuple(
            Item(Layer.CUT, polyline([(0, 0), (9, i / count + shift), (9.5, 3)], False))
            for i in range(count)
        )
        return Drawing(50.0, 50.0, (Group("a", "", items),))

    counts = []
    for count in (100, 400):
        tried.clear()
        compare(heap(count, 0), replace(heap(count, 0.3), groups=heap(count + 1, 0.3).groups))
        counts.append(len(tried))
    assert counts[1] <= counts[0] * 4 * 1.5


def test_vertices_count_as_exact_fractions_or_floats_alike():
    floats = Path(
        tuple(
            Vertex(float(v.x), float(v.y), float(v.bulge)) for v in SHEET.items()[1].path.vertices
        )
    )
    assert compare(SHEET, changed(SHEET, 0, 1, floats)).is_equal(0)
