"""Outlines as cells, held against polygons."""

from math import ceil, cos, pi, sin

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import constrained_delaunay_triangles
from shapely.geometry import MultiPoint, Polygon, box
from shapely.ops import unary_union

from dielines.packing.cells import Cells
from dielines.packing.outlines.rings import cells_of_rings, shape_of_rings, turned_rings

NOTCHED = [(0, 0), (6, 0), (6, 2), (9, 2), (9, 4), (6, 4), (6, 5), (0, 5)]


def touched(polygon, cell, width, height):
    """Return rows of the cells whose inside shares area with a polygon, one by one."""
    return tuple(
        sum(
            1 << x
            for x in range(width)
            if polygon.intersection(
                box(x * cell, y * cell, (x + 1) * cell, (y + 1) * cell)
            ).area > 1e-7
        )
        for y in range(height)
    )  # fmt: skip


def grown(polygon, gap):
    """Return a polygon with a square added to the right and above of each of its points."""
    triangles = constrained_delaunay_triangles(polygon).geoms
    corners = [(0, 0), (gap, 0), (0, gap), (gap, gap)]
    return unary_union(
        [
            MultiPoint(
                [(x + a, y + b) for x, y in triangle.exterior.coords for a, b in corners]
            ).convex_hull
            for triangle in triangles
        ]
    )


@st.composite
def polygons_with_a_hole(draw):
    """Draw rings of a star, and of a smaller star inside it, with its lower left at (0, 0)."""

    count = draw(st.integers(3, 9))
    reach = [draw(st.integers(20, 70)) / 7 for _ in range(count)]
    outer = [
        (r * cos(2 * pi * i / count), r * sin(2 * pi * i / count)) for i, r in enumerate(reach)
    ]
    inner = [(x / 3, y / 3) for x, y in outer] if draw(st.booleans()) else None
    return [outer, inner] if inner else [outer]


def test_an_outline_on_the_grid_is_exact():
    cells = cells_of_rings([NOTCHED], 1)
    wide, narrow = 0b111111111, 0b111111
    assert cells == Cells(9, 5, (narrow, narrow, wide, wide, narrow))


def test_a_window_stays_open():
    window = [(2, 1), (4, 1), (4, 3), (2, 3)]
    assert cells_of_rings([NOTCHED, window], 1).rows[1] == 0b110011


def test_a_side_between_two_lines_of_the_grid_takes_the_cells_that_it_enters():
    third = [(0, 0), (10 / 3, 0), (10 / 3, 7 / 3), (0, 7 / 3)]
    assert cells_of_rings([third], 1) == Cells(4, 3, (15, 15, 15))


def test_a_side_on_the_grid_takes_no_cell_beyond_it_whatever_floats_do():
    inch = 25.4
    side = 8.375 * inch
    cells = cells_of_rings(
        [[(0.1, 0.1), (side + 0.1, 0.1), (side + 0.1, inch + 0.1), (0.1, inch + 0.1)]], inch / 16
    )
    assert (cells.width, cells.height) == (134, 16)


def test_the_lower_left_of_the_outline_lies_at_the_corner():
    moved = [(x + 100 / 7, y - 100 / 3) for x, y in NOTCHED]
    assert cells_of_rings([moved], 1) == cells_of_rings([NOTCHED], 1)


def test_a_gap_on_the_grid_is_the_growth_of_the_cells():
    assert cells_of_rings([NOTCHED], 1, 2) == cells_of_rings([NOTCHED], 1).grown(2)


def test_a_gap_narrower_than_a_cell_is_added_before_the_cells_are_taken():
    side = 1.5
    ring = [(0, 0), (side, 0), (side, side), (0, side)]
    assert cells_of_rings([ring], 1, 0.5) == Cells(2, 2, (3, 3))


def test_a_shape_is_turned_before_the_gap_is_added():
    shape = shape_of_rings([NOTCHED], 1, 1, (0, 1, 2, 3))
    plain = cells_of_rings([NOTCHED], 1)
    for quarters in (0, 1, 2, 3):
        assert shape.cells(quarters) == plain.grown(1)
        plain = plain.turned()


@given(polygons_with_a_hole())
def test_the_cells_are_those_that_share_area_with_the_polygon(rings):
    cells = cells_of_rings(rings, 1)
    left, low = (min(p[i] for p in rings[0]) for i in (0, 1))
    moved = [[(x - left, y - low) for x, y in ring] for ring in rings]
    polygon = Polygon(moved[0], moved[1:])
    wanted = touched(polygon, 1, cells.width, cells.height)
    assert differing(cells.rows, wanted, polygon) == []
    assert (cells.width, cells.height) == tuple(ceil(v - 1e-6) for v in polygon.bounds[2:])


@given(polygons_with_a_hole(), st.sampled_from([1 / 3, 1.0, 9 / 7]), st.integers(0, 3))
def test_the_gap_is_a_square_added_to_the_polygon(rings, gap, quarters):
    turned = turned_rings(rings, quarters)
    cells = cells_of_rings(turned, 1, gap)
    left, low = (min(p[i] for p in turned[0]) for i in (0, 1))
    moved = [[(x - left, y - low) for x, y in ring] for ring in turned]
    polygon = grown(Polygon(moved[0], moved[1:]), gap)
    wanted = touched(polygon, 1, cells.width, cells.height)
    assert differing(cells.rows, wanted, polygon) == []


def differing(rows, wanted, polygon):
    """Return the cells that differ, those left out that are touched by a hair (see ON_THE_GRID)."""
    return [
        (x, y)
        for y, (row, want) in enumerate(zip(rows, wanted, strict=True))
        for x in range(max(row.bit_length(), want.bit_length()))
        if (row ^ want) >> x & 1
        and not 0 < polygon.intersection(box(x, y, x + 1, y + 1)).area < 1e-4
    ]


@pytest.mark.parametrize("quarters", [1, 2, 3])
def test_rings_turn_counter_clockwise(quarters):
    x, y = turned_rings([[(3, 1)]], quarters)[0][0]
    assert (x, y) == {1: (-1, 3), 2: (-3, -1), 3: (1, -3)}[quarters]


def test_a_curve_of_very_many_corners_is_as_wide_as_it_is_high():
    count = 5000
    ring = [
        (50 / 7 * cos(2 * pi * i / count), 50 / 7 * sin(2 * pi * i / count)) for i in range(count)
    ]
    cells = cells_of_rings([ring], 1 / 7)
    assert (cells.width, cells.height) == (100, 100)
    assert cells.rows == tuple(reversed(cells.rows))
    assert abs(cells.area - 2500 * pi) < 400
