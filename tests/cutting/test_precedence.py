"""What lies in what, and what waits for what."""

import math
import random
from fractions import Fraction

import pytest
from shapely import Point, Polygon

from dielines.cutting.nesting import Contour, holders
from dielines.cutting.precedence import SIZES, Stage, contour_stages, size_of, stages
from dielines.drawing import Item, Layer
from dielines.paths import (
    Path,
    Vertex,
    circle,
    flattened,
    line,
    polyline,
    rectangle,
    reversed_path,
    translated,
)

SEVENTH = Fraction(1, 7)


def cut(path, name=""):
    return Item(Layer.CUT, path, name)


def staged(*paths):
    return contour_stages([Contour(path) for path in paths])


def test_an_opening_comes_before_its_outline_and_both_after_what_lies_in_it():
    page, window = rectangle(0, 0, 200, 200), rectangle(20, 20, 180, 180)
    mat, hole = rectangle(40, 40, 160 + SEVENTH, 160), circle((100, 100), 9)
    order = staged(page, window, mat, hole)
    assert order[3] < order[2] < order[1] < order[0]


def test_an_opening_that_holds_nothing_is_a_line_inside_a_part():
    assert staged(rectangle(0, 0, 200, 200), rectangle(20, 20, 30, 30)) == [
        Stage(3, 0),
        Stage(0, 0),
    ]


def test_large_openings_come_after_small_ones_and_before_any_outline():
    large, small = rectangle(5, 5, 150, 150), rectangle(160, 5, 170, 15)
    tag, page = rectangle(300, 0, 310, 10), rectangle(0, 0, 200, 200)
    order = staged(page, large, small, tag)
    assert order[2] < order[1] < order[3] < order[0]


def test_sizes_part_at_the_borders():
    below, at = (rectangle(0, 0, 100, (area - 1) / 100) for area in SIZES), SIZES
    assert [size_of(Contour(path).area) for path in below] == [0, 1]
    assert [size_of(area) for area in at] == [1, 2]
    assert size_of(0) == 0


def test_an_outline_of_the_same_size_waits_for_the_part_in_its_opening_only():
    frame, window, inner = (rectangle(n, n, 65 - n, 65 - n) for n in (0, 5, 10))
    other = translated(frame, 100, 0)
    order = staged(frame, window, inner, other)
    assert order[2] == order[3] == Stage(1, 0)
    assert order[2] < order[1] < order[0]


def test_open_lines_come_first():
    items = [cut(rectangle(0, 0, 50, 50)), cut(line((5, 5), (9, 9))), cut(circle((20, 20), 3))]
    assert stages(items) == [[1, 2], [0]]


def test_paths_without_vertices_are_no_contours():
    assert stages([cut(Path(())), cut(rectangle(0, 0, 5, 5))]) == [[0], [1]]


@pytest.mark.parametrize("turn", [lambda path: path, reversed_path])
def test_what_touches_from_inside_lies_inside_and_from_outside_does_not(turn):
    outer = turn(rectangle(0, 0, 90, 90))
    inside, beside = rectangle(0, 30, 30, 60), rectangle(90, 30, 120, 60)
    at_corner = polyline([(0, 0), (30, 10), (10, 30)], closed=True)
    found = holders([Contour(p) for p in (outer, inside, beside, at_corner)])
    assert found == [[], [0], [], [0]]


def test_what_lies_in_a_notch_lies_outside():
    notched = polyline(
        [(0, 0), (90, 0), (90, 90), (60, 90), (60, 30), (30, 30), (30, 90), (0, 90)], True
    )
    assert holders([Contour(notched), Contour(rectangle(35, 40, 55, 60))]) == [[], []]


def test_the_same_contour_twice_holds_neither():
    box = rectangle(SEVENTH, 0, 50, 50)
    again = Path((*box.vertices[2:], *box.vertices[:2]))
    assert holders([Contour(box), Contour(again), Contour(reversed_path(box))]) == [[], [], []]


def test_arcs_count_with_their_bulge():
    lens = Path((Vertex(0, 0, 1), Vertex(60, 0, 1)))
    assert Contour(lens).area == pytest.approx(math.pi * 900, rel=0.005)
    assert holders([Contour(lens), Contour(circle((30, -25), 3))]) == [[], [0]]


@pytest.mark.parametrize("seed", range(5))
def test_another_library_finds_the_same_contours_in_contours(seed):
    lots, paths = random.Random(seed), []
    for _ in range(120):
        x, y, size = lots.uniform(0, 200), lots.uniform(0, 200), lots.choice([2, 4, 15, 60])
        corners = lots.randrange(3, 9)
        turns = sorted(lots.uniform(0, math.tau) for _ in range(corners))
        points = [(x + size * math.cos(a), y + size * math.sin(a)) for a in turns]
        shape = Polygon(points)
        if all(not shape.boundary.intersects(Polygon(flattened(p)).boundary) for p in paths):
            paths.append(polyline(points, closed=True))
    shapes = [Polygon(flattened(path)) for path in paths]
    wanted = [
        {j for j, outer in enumerate(shapes) if j != i and outer.contains(inner)}
        for i, inner in enumerate(shapes)
    ]
    assert sum(map(len, wanted)) > 5
    assert [set(row) for row in holders([Contour(path) for path in paths])] == wanted


def test_the_inner_point_is_inside_whatever_the_shape():
    lots = random.Random(4)
    for _ in range(200):
        turns = sorted(lots.uniform(0, math.tau) for _ in range(9))
        points = [
            (lots.uniform(5, 50) * math.cos(a), lots.uniform(5, 50) * math.sin(a)) for a in turns
        ]
        shape = Polygon(points)
        if shape.is_valid:
            assert shape.contains(Point(Contour(polyline(points, closed=True)).inner_point))
