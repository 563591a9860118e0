"""Edges that parts share are cut once; what is cut altogether stays the same."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LineString, Polygon, union_all

from dielines.cutting.collinear import NEAR
from dielines.cutting.in_cutting_order import in_cutting_order
from dielines.cutting.shared_edges import with_shared_edges
from dielines.drawing import Drawing, Group, Item, Layer
from dielines.paths import (
    Path,
    Vertex,
    circle,
    flattened,
    length_of,
    line,
    mapped,
    polyline,
    rectangle,
    translated,
)

SIDE = 30 + 1 / 7


def part(name: str, *items: Item) -> Group:
    return Group(name, name, items)


def cut(path: Path, name: str = "outline") -> Item:
    return Item(Layer.CUT, path, name)


def drawing(*groups: Group) -> Drawing:
    return Drawing(400.0, 400.0, groups)


def square(x: float, y: float, side: float = SIDE) -> Path:
    return rectangle(x, y, x + side, y + side)


def turned(path: Path, degrees: float) -> Path:
    c, s = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    return mapped(path, lambda p: type(p)(p.x * c - p.y * s, p.x * s + p.y * c), turns_over=False)


def ink(sheet: Drawing):
    """Return all that is cut, as one figure."""
    lines = []
    for item in sheet.items():
        points = flattened(item.path)
        lines.append(LineString([*points, points[0]] if item.path.closed else points))
    return union_all(lines, grid_size=1e-9)


def total(sheet: Drawing) -> float:
    return sum(length_of(item.path) for item in sheet.items())


def board(across: int, up: int, degrees: float = 0.0) -> Drawing:
    """Return squares that touch, each a part."""
    return drawing(
        *(
            part(f"part {i}.{j}", cut(turned(square(SIDE * i, SIDE * j), degrees)))
            for i in range(across)
            for j in range(up)
        )
    )


def test_ten_by_ten_touching_squares_are_twenty_two_lines():
    squares = [
        part(f"part {i}.{j}", cut(square(30 * i, 30 * j, 30))) for i in range(10) for j in range(10)
    ]
    shared = with_shared_edges(in_cutting_order(drawing(*squares)))
    assert len(shared.items()) == 22
    assert all(len(item.path.vertices) == 2 and not item.path.closed for item in shared.items())
    assert total(shared) == pytest.approx(6600)
    assert total(drawing(*squares)) == pytest.approx(12000)


@pytest.mark.parametrize("degrees", [0, 31, 90, 135])
def test_what_is_cut_altogether_stays_the_same(degrees):
    before = board(3, 4, degrees)
    after = with_shared_edges(in_cutting_order(before))
    assert len(after.items()) == 4 + 5
    assert total(after) == pytest.approx((4 * 4 + 5 * 3) * SIDE)
    assert ink(after).hausdorff_distance(ink(before)) < 1e-6


def test_a_line_bears_the_names_of_all_parts_that_it_belongs_to():
    after = with_shared_edges(in_cutting_order(board(2, 1)))
    names = {item.path.points[0].x: item.name for item in after.items() if upright(item.path)}
    assert {round(x, 3): name for x, name in names.items()} == {
        0: "part 0.0: outline",
        round(SIDE, 3): "part 0.0: outline, part 1.0: outline",
        round(2 * SIDE, 3): "part 1.0: outline",
    }


def upright(path: Path) -> bool:
    return abs(float(path.points[0].x - path.points[1].x)) < 1e-9


def test_edges_that_lie_on_one_another_only_in_part_are_cut_once_there():
    before = drawing(part("a", cut(square(0, 0, 30))), part("b", cut(rectangle(30, 10, 50, 60))))
    after = with_shared_edges(before)
    (shared,) = (i for i in after.items() if upright(i.path) and i.path.points[0].x == 30)
    assert length_of(shared.path) == pytest.approx(60)  # from 0 to 60: both and what they share
    assert total(after) == pytest.approx(120 + 140 - 20)


def test_outlines_that_touch_in_a_corner_or_not_at_all_stay_closed():
    apart = drawing(
        part("a", cut(square(0, 0))),
        part("b", cut(square(SIDE, SIDE))),
        part("c", cut(square(-SIDE - 2 * NEAR, 0))),
        part("d", cut(circle((200, 200), 20))),
    )
    assert with_shared_edges(apart) is apart


def test_parts_that_lie_against_one_another_but_for_rounding_share_their_edge():
    near = drawing(part("a", cut(square(0, 0))), part("b", cut(square(SIDE + NEAR / 2, 0))))
    assert len(with_shared_edges(near).items()) == 3 + 2 * 1


def test_only_the_parts_that_share_come_apart():
    lone = cut(Path((Vertex(200, 0), Vertex(260, 0, 0.3), Vertex(260, 50), Vertex(200, 50))))
    before = board(2, 2)
    after = with_shared_edges(drawing(*before.groups, part("lone", lone)))
    assert [item for item in after.items() if item.path.closed] == [lone]


def test_arcs_that_are_the_same_from_end_to_end_are_cut_once():
    left = Path((Vertex(0, 0), Vertex(40, 0, 0.5), Vertex(40, 30), Vertex(0, 30)))
    right = Path((Vertex(40, 0), Vertex(90, 0), Vertex(90, 30), Vertex(40, 30, -0.5)))
    below = translated(square(0, -40, 40), 0, 0)
    after = with_shared_edges(
        drawing(*(part(n, cut(p)) for n, p in zip("abc", (left, right, below), strict=True)))
    )
    arcs = [item for item in after.items() if any(v.bulge for v in item.path.vertices)]
    assert [item.name for item in arcs] == ["outline"]
    assert length_of(arcs[0].path) == pytest.approx(length_of(left) - 110)
    assert total(after) == pytest.approx(length_of(arcs[0].path) + 110 - 40 + 130 + 160)


def test_what_lies_inside_comes_first_and_what_holds_them_last():
    a = part("a", cut(square(10, 10)), cut(circle((25, 25), 3), "hole"))
    b = part("b", cut(square(10 + SIDE, 10)), cut(circle((60, 25), 3), "hole"))
    frame = part("frame", cut(rectangle(0, 0, 300, 300)), cut(rectangle(5, 5, 295, 295), "window"))
    names = [i.name for i in with_shared_edges(in_cutting_order(drawing(frame, a, b))).items()]
    shared = [i for i, name in enumerate(names) if name.startswith(("a: outline", "b: outline"))]
    assert len(shared) == 5
    assert max(names.index("a: hole"), names.index("b: hole")) < min(shared)
    assert names[max(shared) + 1 :] == ["frame: window", "frame: outline"]


def test_scores_and_slits_on_an_edge_are_not_merged_with_it():
    score = Item(Layer.SCORE_VALLEY, line((SIDE, 0), (SIDE, SIDE)), "score")
    slit = cut(line((SIDE / 2, 0), (SIDE / 2, 9)), "slit")
    after = with_shared_edges(drawing(*board(2, 1).groups, part("more", score, slit)))
    assert after.groups[-1].items == (score, slit)


def test_a_part_that_covers_an_edge_of_its_own_twice_is_cut_there_once():
    keyhole = polyline(
        [(0, 0), (50, 0), (50, 40), (25, 40), (25, 20), (25, 40), (0, 40)], True
    )  # fmt: skip
    after = with_shared_edges(drawing(part("a", cut(keyhole))))
    assert total(after) == pytest.approx(180 + 20)


def test_a_short_edge_beside_a_long_one_does_not_part_it():
    long = part("long", cut(rectangle(0, 0, 100, 20)))
    short = part("short", cut(rectangle(10, 20, 20, 40)))
    last = part("last", cut(rectangle(60, 20, 120, 40)))
    after = with_shared_edges(drawing(long, short, last))
    level = [i for i in after.items() if i.path.points[0].y == i.path.points[1].y == 20]
    assert [length_of(item.path) for item in level] == [120]
    assert level[0].name == "outline"


def test_parts_that_hang_together_elsewhere_on_the_same_lines_stay_apart():
    far = [translated(group.items[0].path, 200, 0) for group in board(2, 1).groups]
    after = with_shared_edges(
        drawing(*board(2, 1).groups, *(part(f"far {i}", cut(p)) for i, p in enumerate(far)))
    )
    assert len(after.items()) == 2 * 5
    assert total(after) == pytest.approx(2 * 7 * SIDE)


def test_lines_wait_for_all_that_lies_inside_any_of_their_parts():
    small = part("small", cut(square(0, 0)))
    large = part("large", cut(rectangle(SIDE, 0, 220, 190)), cut(square(50, 40, 120), "window"))
    inner = part("inner", cut(square(60, 60, 70)), cut(circle((90, 90), 4), "hole"))
    after = with_shared_edges(in_cutting_order(drawing(large, small, inner)))
    names = [item.name for item in after.items()]
    assert names[:3] == ["inner: hole", "inner: outline", "large: window"]
    assert len(names) == 3 + 6


def cell(name: str, x: float, y: float, side: float, kinds: list[int]) -> list[Group]:
    """Return a square part: plain, with a hole, or with a window in which two more lie side by side."""
    kind = kinds.pop() if kinds else 0
    outline = cut(square(x, y, side))
    if kind == 0 or side < 20:
        return [part(name, outline)]
    if kind == 1:
        return [part(name, outline, cut(circle((x + side / 2, y + side / 3), side / 7), "hole"))]
    inner = side / 3
    window = cut(square(x + side / 7, y + side / 7, side * 5 / 7), "window")
    halves = [
        cell(f"{name}.{i}", x + side / 6 + i * inner, y + side / 5, inner, kinds) for i in range(2)
    ]
    return [part(name, outline, window), *halves[0], *halves[1]]


@settings(max_examples=20, deadline=None)
@given(st.lists(st.integers(0, 2), min_size=4, max_size=12), st.permutations(range(4)))
def test_replayed_nothing_is_cut_inside_a_part_once_its_outline_is_begun(kinds, order):
    corners = [(0, 0), (90, 0), (0, 90), (90, 90)]
    groups = [
        group for i in order for group in cell(f"p{i}", *corners[i], 90.0, kinds) if group.items
    ]
    before = drawing(*groups)
    after = with_shared_edges(in_cutting_order(before))
    assert ink(after).hausdorff_distance(ink(before)) < 1e-6
    strokes = [LineString(flattened(i.path) + flattened(i.path)[:1] if i.path.closed else i.path.points)
               for i in after.items()]  # fmt: skip
    for item in before.items():
        shape = Polygon(flattened(item.path))
        begun = min(
            i
            for i, s in enumerate(strokes)
            if s.intersection(shape.exterior.buffer(1e-6)).length > 0.1
        )
        inside = [i for i, s in enumerate(strokes) if shape.buffer(-1e-3).contains(s)]
        assert max(inside, default=-1) < begun
