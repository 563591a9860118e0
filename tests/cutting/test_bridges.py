"""Bridges hold a part in its sheet until a person presses it out."""

from __future__ import annotations

import math

import pytest
from shapely import LineString, Polygon

from dielines.cutting.bridges import bridged, bridges_of, with_bridges
from dielines.drawing import Drawing, Group, Item, Layer
from dielines.paths import Path, Vertex, circle, flattened, length_of, polyline, rectangle

WIDTH = 4 / 7
PAGE = Path((Vertex(10, 10), Vertex(110, 10), Vertex(110, 90, 0.2), Vertex(10, 90)))


def drawing(*groups: tuple[Item, ...]) -> Drawing:
    return Drawing(300.0, 300.0, tuple(Group(f"g{i}", "", g) for i, g in enumerate(groups)))


def cut(path: Path, name: str = "") -> Item:
    return Item(Layer.CUT, path, name)


@pytest.mark.parametrize(
    ("path", "every", "bridges"),
    [(PAGE, 100, 4), (PAGE, 50, 7), (PAGE, 1000, 2), (circle((50, 50), 20), 30, 4),
     (rectangle(0, 0, 10, 5), 100, 2)],
)  # fmt: skip
def test_each_bridge_has_the_width_that_is_asked_and_the_rest_is_cut(path, every, bridges):
    pieces = bridged(path, WIDTH, every)
    assert len(pieces) == bridges
    assert sum(map(length_of, pieces)) == pytest.approx(length_of(path) - bridges * WIDTH)
    gaps = zip(pieces, [*pieces[1:], pieces[0]], strict=True)
    for before, after in gaps:
        assert math.dist(before.points[-1], after.points[0]) == pytest.approx(WIDTH, rel=1e-3)


def test_the_sheet_stays_in_one_piece_and_falls_apart_without_bridges():
    sheet = Polygon(flattened(rectangle(0, 0, 200, 200)))

    def pieces_of_sheet(paths):
        for path in paths:
            points = flattened(path) + (flattened(path)[:1] if path.closed else [])
            rest.append(rest[-1].difference(LineString(points).buffer(0.05)))
        return rest[-1]

    rest = [sheet]
    assert pieces_of_sheet(bridged(PAGE, WIDTH, 80)).geom_type == "Polygon"
    rest = [sheet]
    assert len(pieces_of_sheet([PAGE]).geoms) == 2


def test_bridges_keep_off_the_corners_and_are_spread_out():
    path = rectangle(0, 0, 40, 30)  # evenly spread, the first of seven would be at 10
    for every in (20, 10, 7):
        middles = bridges_of(path, 2.0, every)
        assert len(middles) > 5
        for middle in middles:
            assert min(abs(middle - corner) for corner in (0, 40, 70, 110, 140)) >= 3 - 1e-9
        gaps = [b - a for a, b in zip(middles, [*middles[1:], middles[0] + 140], strict=True)]
        assert min(gaps) >= 4 - 1e-9


def test_bridges_asked_for_too_densely_are_thinned_out_all_round():
    for path in (rectangle(0, 0, 40, 30), circle((0, 0), 10), circle((0, 0), 1.9)):
        middles, total = bridges_of(path, 2.0, 1.0), length_of(path)
        gaps = [b - a for a, b in zip(middles, [*middles[1:], middles[0] + total], strict=True)]
        assert min(gaps) >= 4 - 1e-9
        assert len(middles) > total / 8


def test_an_edge_that_runs_over_the_first_vertex_has_bridges_on_both_sides_of_it():
    path = polyline([(20, 0), (40, 0), (40, 1), (20, 2), (0, 1), (0, 0)], True)
    places = [stop.points[-1] for stop in bridged(path, 1.0, 10)]
    below = sorted(float(point.x) for point in places if point.y == 0)
    assert below[0] < 10 < 30 < below[-1]


def test_a_bridge_may_lie_across_the_start_of_a_smooth_path():
    path = polyline([(20, 0), (40, 0), (40, 9), (0, 9), (0, 0)], True)
    middles = bridges_of(path, 1.0, 49)
    assert len(middles) == 2
    assert sum(map(length_of, bridged(path, 1.0, 49))) == pytest.approx(98 - 2)


def test_an_outline_too_small_for_two_bridges_stays_closed():
    small = rectangle(0, 0, 1, 1)
    assert bridged(small, WIDTH, 100) == (small,)


def test_outlines_are_held_and_openings_fall_out():
    window, score = rectangle(30, 30, 60, 60), Item(Layer.SCORE_VALLEY, rectangle(70, 20, 80, 80))
    tag = rectangle(35, 35, 55, 55)
    done = with_bridges(
        drawing((score, cut(window, "window"), cut(PAGE, "page")), (cut(tag, "tag"),)), WIDTH, 100
    )
    assert [len(group.items) for group in done.groups] == [2 + 4, 2]
    assert done.groups[0].items[:2] == (score, cut(window, "window"))
    assert [item.name for item in done.items()[2:]] == ["page"] * 4 + ["tag"] * 2
    assert not any(item.path.closed for item in done.items()[2:])


def test_without_a_width_there_are_no_bridges():
    before = drawing((cut(PAGE),))
    assert with_bridges(before, 0.0, 100) is before


def test_a_notch_for_the_thumb_has_no_bridge_where_a_straight_edge_is_near():
    notched = Path(
        (
            Vertex(0, 0),
            Vertex(40, 0),
            Vertex(40, 60),
            Vertex(28, 60, -1),
            Vertex(12, 60),
            Vertex(0, 60),
        )
    )
    half = math.pi * 8
    first = 40 + 60 + 12
    for every in (41, 50, 70):
        middles = bridges_of(notched, 1.0, every)
        assert len(middles) == round(length_of(notched) / every)
        assert not [m for m in middles if first - 0.5 < m < first + half + 0.5]


def test_a_long_round_edge_has_its_bridges_all_the_same():
    dome = Path((Vertex(0, 0), Vertex(80, 0, 1)))
    middles = bridges_of(dome, 1.0, 40)
    assert len([m for m in middles if m > 80]) == 3
