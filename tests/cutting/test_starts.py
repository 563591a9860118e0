"""Closed cuts begin away from corners and run on past their start."""

from __future__ import annotations

import itertools
import math

import pytest

from dielines.cutting.starts import overlapping, starts_of, with_overlap
from dielines.drawing import Drawing, Group, Item, Layer
from dielines.formats.deviation import distance_to
from dielines.paths import Path, Vertex, circle, length_of, line, polyline, rectangle

OVERLAP = 3 / 7
TAB = Path((Vertex(10, 10), Vertex(70, 10), Vertex(70, 40, 0.3), Vertex(10, 40)))


def drawing(*items: Item) -> Drawing:
    return Drawing(300.0, 300.0, (Group("sheet", "", items),))


def cut(path: Path) -> Item:
    return Item(Layer.CUT, path)


def travel(items: tuple[Item, ...]) -> float:
    ends = [(i.path.points[0], i.path.points[0 if i.path.closed else -1]) for i in items]
    return sum(math.dist(a[1], b[0]) for a, b in itertools.pairwise(ends))


@pytest.mark.parametrize("path", [TAB, circle((50, 50), 20), rectangle(1, 1, 31, 1 + 1 / 3)])
def test_the_cut_goes_all_round_and_a_little_more(path):
    (item,) = with_overlap(drawing(cut(path)), OVERLAP).items()
    assert not item.path.closed
    assert length_of(item.path) == pytest.approx(length_of(path) + OVERLAP)
    start, end = item.path.points[0], item.path.points[-1]
    assert 0 < math.dist(start, end) <= OVERLAP + 1e-9
    for point in item.path.points:
        assert min(distance_to(point, s) for s in path.segments()) < 1e-9


def test_it_begins_in_the_middle_of_an_edge_not_at_a_corner():
    (item,) = with_overlap(drawing(cut(TAB)), OVERLAP).items()
    assert min(math.dist(item.path.points[0], corner) for corner in TAB.points) > 14
    assert len(starts_of(TAB)) == 4
    upright = sorted(starts_of(TAB)[2:])  # the shortest edges come last
    assert upright == pytest.approx([60 + 30 / 2, length_of(TAB) - 30 / 2])


def test_an_edge_that_runs_over_the_first_vertex_is_one_edge():
    path = polyline([(20, 0), (40, 0), (40, 10), (0, 10), (0, 0)], True)
    assert starts_of(path)[:2] == pytest.approx([20 + 10 + 20, 0])


def test_among_the_edges_those_are_taken_between_which_the_tool_travels_least():
    squares = [rectangle(x, y, x + 30, y + 30) for x, y in ((0, 0), (40, 0), (80, 0), (80, 40))]
    chosen = with_overlap(drawing(*map(cut, squares)), OVERLAP).items()
    ways = itertools.product(*(starts_of(square) for square in squares))
    least = min(
        travel(tuple(cut(overlapping(s, a, OVERLAP)) for s, a in zip(squares, way, strict=True)))
        for way in ways
    )
    assert travel(chosen) == pytest.approx(least, abs=0.01)


def test_the_order_and_everything_that_is_no_closed_cut_stay():
    others = (
        Item(Layer.MARK, rectangle(0, 0, 9, 9)),
        cut(line((1, 1), (5, 5))),
        Item(Layer.CUT, Path(())),
    )
    done = with_overlap(drawing(*others, cut(TAB), cut(circle((200, 200), 9))), OVERLAP)
    assert done.items()[:3] == others
    assert max(point.x for point in done.items()[3].path.points) == 70
    assert len(done.items()) == 5


def test_without_overlap_outlines_stay_closed():
    before = drawing(cut(TAB))
    assert with_overlap(before, 0.0) is before


def test_a_contour_shorter_than_its_overlap_is_gone_over_once_and_a_half_at_most():
    path = overlapping(circle((0, 0), 0.1), 0.0, 50.0)
    assert length_of(path) == pytest.approx(0.2 * math.pi * 1.5)
