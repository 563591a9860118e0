"""Nothing is worked twice."""

from __future__ import annotations

from fractions import Fraction

import pytest

from dielines.cutting.contours import started_along
from dielines.cutting.duplicates import without_duplicates
from dielines.drawing import Drawing, Group, Item, Layer, in_floats
from dielines.paths import (
    Path,
    Vertex,
    circle,
    length_of,
    line,
    rectangle,
    reversed_path,
    translated,
)

THIRD = Fraction(1, 3)
PAGE = Path((Vertex(THIRD, 0), Vertex(70, 0), Vertex(70, 40, 0.3), Vertex(10, 40)))


def drawing(*groups: tuple[Item, ...]) -> Drawing:
    return Drawing(300.0, 300.0, tuple(Group(f"g{i}", "", g) for i, g in enumerate(groups)))


def cut(path: Path, name: str = "") -> Item:
    return Item(Layer.CUT, path, name)


def score(x0: float, x1: float, y: float = 5.0, name: str = "") -> Item:
    return Item(Layer.SCORE_VALLEY, line((x0, y), (x1, y)), name)


def turned_vertices(path: Path) -> Path:
    return Path((*path.vertices[2:], *path.vertices[:2]))


@pytest.mark.parametrize(
    "again",
    [PAGE, reversed_path(PAGE), turned_vertices(PAGE), reversed_path(turned_vertices(PAGE)),
     translated(PAGE, 1e-9, -1e-9)],
    ids=["same", "other way round", "other start", "both", "off by rounding"],
)  # fmt: skip
def test_a_path_that_stands_twice_is_cut_once_and_bears_both_names(again):
    left = without_duplicates(drawing((cut(PAGE, "a"),), (cut(circle((9, 9), 2)), cut(again, "b"))))
    assert [item.name for item in left.items()] == ["a, b", ""]
    assert left.items()[0].path == PAGE
    assert [len(group.items) for group in left.groups] == [1, 1]


def test_fractions_and_floats_of_one_place_are_the_same():
    exact = drawing((cut(PAGE),))
    both = drawing((cut(PAGE), in_floats(exact).items()[0]))
    assert len(without_duplicates(both).items()) == 1


def test_paths_that_differ_by_a_little_or_by_their_layer_all_stay():
    others = (
        cut(PAGE),
        cut(translated(PAGE, 0.0001, 0)),
        Item(Layer.MARK, PAGE),
        cut(Path((*PAGE.vertices[:2], Vertex(70, 40, 0.3001), PAGE.vertices[3]))),
        cut(Path(PAGE.vertices, closed=False)),
        cut(rectangle(0, 0, 9, 9)),
    )
    assert without_duplicates(drawing(others)).items() == others


def test_scores_that_lie_on_one_another_in_part_become_one():
    items = (score(0, 20, name="a"), score(90, 60), cut(PAGE), score(30, 1 / 7, name="b"))
    left = without_duplicates(drawing(items)).items()
    assert [item.name for item in left] == ["a, b", "", ""]
    assert length_of(left[0].path) == pytest.approx(30)
    assert left[1:] == items[1:3]


def test_lines_that_only_touch_or_run_beside_one_another_stay():
    items = (score(0, 20), score(20, 40), score(0, 40, y=5.1), cut(line((0, 5), (40, 5))))
    assert without_duplicates(drawing(items)).items() == items


def test_three_lines_in_a_row_become_one_where_each_lies_on_the_next():
    items = (score(0, 20), score(35, 50), score(15, 40))
    (only,) = without_duplicates(drawing(items)).items()
    assert length_of(only.path) == pytest.approx(50)


def test_a_closed_path_with_a_corner_more_is_another_one():
    before = drawing((cut(PAGE), cut(started_along(PAGE, 3.0))))
    assert len(without_duplicates(before).items()) == 2
