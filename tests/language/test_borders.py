"""Borders of random maps: exact areas, whole edges, closed rings; held against another library.

The other library's union of polygons is the independent reference.
"""

import itertools
from fractions import Fraction

import hypothesis.strategies as st
import pytest
from hypothesis import given, settings
from shapely import LineString, Polygon, box, unary_union

from dielines.documents import Refusal
from dielines.language.borders import borders_of, rings_of
from dielines.language.cellmap import read_map
from dielines.language.drafts import borders_between
from dielines.language.expressions import Scope
from dielines.language.template import template_from_text
from dielines.language.work import Work
from dielines.paths import (
    Path,
    Point,
    Segment,
    Vertex,
    circle,
    rectangle,
    reversed_path,
    signed_area,
)

F = Fraction
SIZES = st.fractions(min_value=Fraction(1, 7), max_value=9, max_denominator=21)
HEAD = (
    'template = "leaf"\nkind = "insert"\nunits = "mm"\n[parts.a]\ncolumns = [1]\nrows = ["1 : a"]\n'
)


@st.composite
def maps(draw):
    """Return widths, heights and a grid of names; touching cells of one letter share a name."""
    widths = draw(st.lists(SIZES, min_size=1, max_size=4))
    heights = draw(st.lists(SIZES, min_size=1, max_size=4))
    letters = [[draw(st.sampled_from("aab.")) for _ in widths] for _ in heights]
    names = {}
    for number, (r, c) in enumerate(itertools.product(range(len(heights)), range(len(widths)))):
        if letters[r][c] != "." and (r, c) not in names:
            flood(letters, names, r, c, f"{letters[r][c]}{number}")
    grid = [[names.get((r, c), ".") for c in range(len(widths))] for r in range(len(heights))]
    return widths, heights, grid


def flood(letters, names, row: int, column: int, name: str) -> None:
    waiting = [(row, column)]
    while waiting:
        r, c = waiting.pop()
        inside = 0 <= r < len(letters) and 0 <= c < len(letters[0])
        if inside and (r, c) not in names and letters[r][c] == letters[row][column]:
            names[r, c] = name
            waiting += [(r + 1, c), (r - 1, c), (r, c + 1), (r, c - 1)]


def cells(widths, heights, grid):
    """Yield the name and the exact box of each cell that is not cut away."""
    top = sum(heights)
    for r, height in enumerate(heights):
        bottom = top - sum(heights[: r + 1])
        for c, width in enumerate(widths):
            if grid[r][c] != ".":
                left = sum(widths[:c])
                yield grid[r][c], (left, bottom, left + width, bottom + height)


def panels_of(widths, heights, grid):
    rows = [f"{height} : {' '.join(names)}" for height, names in zip(heights, grid, strict=True)]
    place = template_from_text(HEAD).fresh_document().root
    table = {"columns": [str(width) for width in widths], "rows": rows}
    found = read_map(place, table, Scope({}, "mm"), Work())
    return None if found is None else found.shapes


def length(piece: Segment) -> Fraction:
    return abs(piece.end.x - piece.start.x) + abs(piece.end.y - piece.start.y)


def polygon(path: Path) -> Polygon:
    return Polygon([(float(x), float(y)) for x, y in path.points])


@settings(max_examples=40, deadline=None)
@given(maps())
def test_what_is_common_cancels_and_what_is_left_is_the_outline(drawn):
    panels = panels_of(*drawn)
    boxes = list(cells(*drawn))
    if panels is None:
        assert not boxes
        return
    borders = borders_between(panels)
    rings = rings_of(borders.free)
    area = sum((right - left) * (top - bottom) for _, (left, bottom, right, top) in boxes)
    assert sum(map(signed_area, rings)) == area
    # a ring that meets itself at a corner is allowed: there the paper hangs by a point only
    exteriors = [polygon(ring).buffer(0) for ring in rings if signed_area(ring) > 0]
    interiors = [polygon(ring).buffer(0) for ring in rings if signed_area(ring) < 0]
    union = unary_union([box(*map(float, edges)) for _, edges in boxes])
    assert (
        unary_union(exteriors).difference(unary_union(interiors)).symmetric_difference(union).area
        < 1e-9
    )


@settings(max_examples=25, deadline=None)
@given(maps())
def test_every_edge_of_a_panel_is_free_or_common(drawn):
    panels = panels_of(*drawn)
    if panels is None:
        return
    borders = borders_between(panels)
    whole = sum(
        length(segment)
        for shape in panels.values()
        for path in (shape.outline(), *shape.holes)
        for segment in path.segments()
    )
    common = sum(length(contact.piece) for contact in borders.contacts)
    assert whole == 2 * common + sum(map(length, borders.free))


@settings(max_examples=25, deadline=None)
@given(maps())
def test_two_panels_have_in_common_what_their_cells_have(drawn):
    panels = panels_of(*drawn)
    if panels is None:
        return
    shared: dict[frozenset[str], float] = {}
    for contact in borders_between(panels).contacts:
        pair = frozenset((contact.first, contact.second))
        assert len(pair) == 2
        shared[pair] = shared.get(pair, 0) + float(length(contact.piece))
    unions: dict[str, Polygon] = {}
    for name, edges in cells(*drawn):
        unions[name] = unions.get(name, Polygon()).union(box(*map(float, edges)))
    for first, second in itertools.combinations(unions, 2):
        common = unions[first].boundary.intersection(unions[second].boundary).length
        assert abs(common - shared.get(frozenset((first, second)), 0)) < 1e-9


@settings(max_examples=25, deadline=None)
@given(maps())
def test_first_stands_above_or_left_of_second(drawn):
    panels = panels_of(*drawn)
    if panels is None:
        return
    shapes = {name: polygon(shape.outline()) for name, shape in panels.items()}
    for first, relation, second, piece in borders_between(panels).contacts:
        x = float(piece.start.x + piece.end.x) / 2
        y = float(piece.start.y + piece.end.y) / 2
        dx, dy = (1e-3, 0) if relation == "|" else (0, -1e-3)
        probe = LineString([(x, y), (x - dx, y - dy)]), LineString([(x, y), (x + dx, y + dy)])
        assert shapes[first].buffer(1e-9).contains(probe[0])
        assert shapes[second].buffer(1e-9).contains(probe[1])


def test_arcs_that_run_against_each_other_cancel_and_others_stay():
    half = Path((Vertex(0, 0, Fraction(1)), Vertex(Fraction(10, 3), 0)))
    other = Path((Vertex(Fraction(10, 3), 0, Fraction(1)), Vertex(0, 0)))
    borders = borders_of({"low": [half], "high": [other]})
    assert [(c.first, c.relation, c.second) for c in borders.contacts] == [("high", "/", "low")]
    assert sorted(float(piece.bulge) for piece in borders.free) == [1, 1]


def test_a_hole_stays_a_hole_of_true_arcs():
    hole = reversed_path(circle((5, 5), Fraction(10, 7)))
    borders = borders_of({"a": [rectangle(0, 0, 10, 10), hole], "b": [rectangle(10, 0, 20, 10)]})
    rings = rings_of(borders.free)
    assert [len(ring.vertices) for ring in rings] == [4, 2]
    assert signed_area(rings[1]) < 0
    assert all(abs(vertex.bulge) == 1 for vertex in rings[1].vertices)


def test_panels_that_meet_at_a_corner_only_stay_apart():
    borders = borders_of({"a": [rectangle(0, 0, 1, 1)], "b": [rectangle(1, 1, 2, 2)]})
    assert borders.contacts == ()
    assert [signed_area(ring) for ring in rings_of(borders.free)] == [1, 1]
    assert all(Point(1, 1) in ring.points for ring in rings_of(borders.free))


def test_pieces_that_do_not_close_are_told():
    sides = list(rectangle(F(0), F(0), F(7), F(3)).segments())
    with pytest.raises(Refusal) as caught:
        rings_of(sides[:3])
    assert caught.value.code == "open-outline"
