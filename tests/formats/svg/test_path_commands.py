"""Path data: the grammar of SVG 2, and what becomes of errors in it."""

import math
from itertools import pairwise

import pytest

from dielines.formats.out_of_bounds import OutOfBounds
from dielines.formats.svg.bounds import Allowance
from dielines.formats.svg.path_commands import commands, draw_path
from dielines.formats.svg.tracing import Pen
from dielines.formats.svg.transforms import IDENTITY, scaling
from dielines.paths import arc_of, bounds_of, length_of


def drawn(data: str, matrix=IDENTITY):
    """Return the paths of *data* in user units, y down, and whether all of it made sense."""
    pen = Pen(matrix, Allowance())
    return draw_path(data, pen), pen.paths


def points(data: str):
    return [list(path.points) for path in drawn(data)[1]]


# SVG 2, paths.html, "The grammar for path data" and the cases quoted from it.
@pytest.mark.parametrize(
    ("data", "expected"),
    [
        ("M 100-200L1 1", [(100, -200), (1, 1)]),
        ("M 0.6.5L1 1", [(0.6, 0.5), (1, 1)]),
        ("M1e1,2E-1L+3-.5e1", [(10, 0.2), (3, -5)]),
        ("m 5 6 7 8", [(5, 6), (12, 14)]),  # the first m is absolute, what follows relative
        ("M5 6 7 8", [(5, 6), (7, 8)]),
        ("M1 1H9V7h-3v-2", [(1, 1), (9, 1), (9, 7), (6, 7), (6, 5)]),
        ("M1 1H2 3 4", [(1, 1), (2, 1), (3, 1), (4, 1)]),
        ("\t\n\r\f M1,1 \n ,2,2", [(1, 1), (2, 2)]),
        ("M23. 5L1 1", [(23, 5), (1, 1)]),  # authoring tools must not write it; readers may read it
    ],
)
def test_numbers_and_commands_may_stand_close(data, expected):
    is_whole, (path,) = drawn(data)
    assert is_whole
    assert [x for point in path.points for x in point] == pytest.approx(
        [x for point in expected for x in point]
    )


@pytest.mark.parametrize("flags", ["0 1 10 10", "0,1,10,10", "0110 10", "01 10 10", "0 110,10"])
def test_flags_need_nothing_between_them(flags):
    is_whole, (path,) = drawn(f"M0 0A1 1 0 {flags}")
    assert is_whole
    assert path.points[-1] == (10, 10)


@pytest.mark.parametrize(
    ("data", "count"),
    [
        ("M0 0L10 0L20", 2),
        ("M0 0L10 0L20 0#30 0", 3),
        ("M0 0L10 0X5 5", 2),
        ("M0 0 10 0A5 5 0 2 0 9 9L1 1", 2),
        ("M0 0 10 0A5 5 0 -1 0 9 9", 2),
        ("M0 0L10 0L1e999 0L3 3", 2),
        ("M0 0L5 5 nan 3", 2),
        (f"M0 0L5 5L{'9' * 200} 3", 2),
    ],
)
def test_an_error_ends_the_path_where_it_stands(data, count):
    is_whole, (path,) = drawn(data)
    assert not is_whole
    assert len(path.points) == count


@pytest.mark.parametrize("data", ["L1 1 2 2", "10 10 20 20", "A", "z", "M", "M1", "#M1 1L2 2"])
def test_a_path_that_does_not_begin_with_a_move_draws_nothing(data):
    assert drawn(data) == (False, [])


@pytest.mark.parametrize("data", ["", "  \n", "M1 1", "M1 1Z", "M1 1M2 2", "M3 3L3 3"])
def test_a_path_without_a_segment_draws_nothing(data):
    assert drawn(data) == (True, [])


def test_after_closing_drawing_goes_on_from_the_start():
    assert points("M1 1L5 1L5 5ZL9 9") == [[(1, 1), (5, 1), (5, 5)], [(1, 1), (9, 9)]]
    assert points("m1 1l4 0 0 4zm2 2l1 0") == [[(1, 1), (5, 1), (5, 5)], [(3, 3), (4, 3)]]


def test_numbers_after_closing_are_an_error():
    is_whole, paths = drawn("M1 1L5 1L5 5Z 9 9")
    assert not is_whole
    assert len(paths) == 1


def test_closing_where_the_pen_is_adds_no_side():
    is_whole, (path,) = drawn("M1 1L5 1L5 5L1 1Z")
    assert is_whole
    assert path.closed
    assert len(path.points) == 3


def test_smooth_curves_go_on_from_the_last_control_point():
    _, (smooth,) = drawn("M0 0C0 10 10 10 10 0S20 -10 20 0")
    _, (plain,) = drawn("M0 0C0 10 10 10 10 0C10 -10 20 -10 20 0")
    assert smooth == plain
    _, (smooth,) = drawn("M0 0Q5 9 10 0T20 0T30 0")
    _, (plain,) = drawn("M0 0Q5 9 10 0Q15 -9 20 0Q25 9 30 0")
    assert smooth == plain


@pytest.mark.parametrize(
    ("start", "smooth", "plain"),
    [
        ("M0 0C0 9 9 9 9 0L10 0", "S20 10 20 0", "C10 0 20 10 20 0"),
        ("M0 0C0 9 9 9 9 0Q9 5 10 0", "S20 10 20 0", "C10 0 20 10 20 0"),
        ("M0 0Q5 5 9 0L10 0", "T20 0", "Q10 0 20 0"),
        ("M0 0Q5 5 9 0C9 9 9 9 10 0", "T20 0", "Q10 0 20 0"),
        ("M10 0", "S20 10 20 0", "C10 0 20 10 20 0"),
    ],
)
def test_a_smooth_curve_after_anything_else_starts_straight(start, smooth, plain):
    assert drawn(start + smooth) == drawn(start + plain)


def test_relative_curves_count_from_where_the_pen_is():
    _, (relative,) = drawn("M5 7c0 10 10 10 10 0s10-10 10 0q5 9 10 0t10 0a5 5 0 0 1 10 0")
    _, (absolute,) = drawn("M5 7C5 17 15 17 15 7S25 -3 25 7Q30 16 35 7T45 7A5 5 0 0 1 55 7")
    for a, b in zip(relative.vertices, absolute.vertices, strict=True):
        assert (a.x, a.y, a.bulge) == pytest.approx((b.x, b.y, b.bulge), abs=1e-12)


# SVG 2, paths.html, "Out-of-range elliptical arc parameters".
def test_an_arc_to_where_the_pen_is_is_left_out():
    assert points("M5 5L9 5A3 3 0 1 1 9 5L9 9") == [[(5, 5), (9, 5), (9, 9)]]


@pytest.mark.parametrize("radii", ["0 5", "5 0", "-0 1", "0 0"])
def test_an_arc_without_a_radius_is_a_line(radii):
    _, (path,) = drawn(f"M0 0A{radii} 0 0 1 10 0")
    assert [vertex.bulge for vertex in path.vertices] == [0, 0]


def test_a_negative_radius_counts_as_positive():
    assert drawn("M0 0A-7 7 0 0 1 10 0") == drawn("M0 0A7 7 0 0 1 10 0")


def test_radii_too_small_grow_until_they_reach():
    _, (path,) = drawn("M0 0A1 1 30 0 1 10 0")
    (arc,) = (arc_of(segment) for segment in path.segments())
    assert arc.radius == pytest.approx(5)
    assert path.vertices[0].bulge == pytest.approx(1)


@pytest.mark.parametrize(
    ("flags", "sweep_deg"), [("0 0", -90), ("0 1", 90), ("1 0", -270), ("1 1", 270)]
)
def test_flags_choose_one_of_four_arcs(flags, sweep_deg):
    _, (path,) = drawn(f"M10 0A10 10 0 {flags} 0 10")
    arcs = [arc_of(segment) for segment in path.segments()]
    assert math.degrees(sum(arc.sweep for arc in arcs)) == pytest.approx(sweep_deg)
    assert all(abs(arc.sweep) <= math.pi + 1e-9 for arc in arcs)
    assert all(arc.radius == pytest.approx(10) for arc in arcs)


@pytest.mark.parametrize(("flags", "length"), [("0 1", 10), ("1 1", 10 + 20 * math.pi)])
def test_tiny_arcs_and_all_but_whole_circles_are_told_apart(flags, length):
    _, (path,) = drawn(f"M10 0A10 10 0 {flags} 10 1e-15L0 0")
    assert length_of(path) == pytest.approx(length, abs=1e-5)


@pytest.mark.parametrize(
    ("data", "exact"),
    [
        # cubic: B(t) = 3 s s t (0,90) + 3 s t t (90,90) + t t t (90,0)
        ("M0 0C0 90 90 90 90 0", lambda t: (90 * t * t * (3 - 2 * t), 270 * t * (1 - t))),
        ("M0 0Q50 80 100 0", lambda t: (100 * t, 160 * t * (1 - t))),
        ("M0 0A60 30 0 0 1 120 0", lambda t: (60 - 60 * math.cos(math.pi * t),
                                              -30 * math.sin(math.pi * t))),
    ],
)  # fmt: skip
def test_curves_become_chords_within_a_hundredth_of_a_millimetre(data, exact):
    _, (path,) = drawn(data)
    vertices = [tuple(map(float, p)) for p in path.points]
    chords = list(pairwise(vertices))
    for i in range(1001):
        assert min(distance(exact(i / 1000), *chord) for chord in chords) <= 0.01
    assert len(vertices) < 250
    assert all(vertex.bulge == 0 for vertex in path.vertices)


def distance(p, a, b) -> float:
    (px, py), (ax, ay), (bx, by) = p, a, b
    length = math.dist(a, b) ** 2
    share = max(0, min(1, ((px - ax) * (bx - ax) + (py - ay) * (by - ay)) / length))
    return math.dist(p, (ax + share * (bx - ax), ay + share * (by - ay)))


def test_a_circle_stretched_to_an_ellipse_becomes_chords_and_back():
    _, (oval,) = drawn("M0 0A10 10 0 0 1 20 0", scaling(2, 1))
    assert len(oval.vertices) > 10
    _, (round_again,) = drawn("M0 0A10 20 0 0 1 20 0", scaling(2, 1))
    assert len(round_again.vertices) == 2


def test_a_mirrored_arc_bends_the_other_way():
    _, (plain,) = drawn("M0 0A10 10 0 0 1 10 10")
    _, (mirrored,) = drawn("M0 0A10 10 0 0 1 10 10", scaling(-1, 1))
    assert mirrored.vertices[0].bulge == pytest.approx(-plain.vertices[0].bulge)
    assert float(bounds_of([mirrored]).left) == pytest.approx(-float(bounds_of([plain]).right))


def test_the_number_of_steps_is_bounded():
    pen = Pen(IDENTITY, Allowance(steps=100))
    with pytest.raises(OutOfBounds) as caught:
        draw_path("M0 0" + "L1 1L0 0" * 60, pen)
    assert caught.value.code == "too-much-path"


@pytest.mark.parametrize(
    "data", ["M0 0" + "z" * 200, "M0 0" * 200, "M0 0" + "A1 1 0 0 1 0 0" * 200]
)
def test_steps_that_draw_nothing_count_as_well(data):
    with pytest.raises(OutOfBounds):
        draw_path(data, Pen(IDENTITY, Allowance(steps=100)))


@pytest.mark.parametrize("data", ["M0 0L2e6 0", "M0 0C0 0 1e12 0 5 5", "M0 0A1e9 1 0 0 1 5e14 5"])
def test_what_lies_more_than_a_kilometre_away_is_refused(data):
    with pytest.raises(OutOfBounds):
        drawn(data)


def test_an_error_is_told_at_the_end():
    assert list(commands("M1 2L3"))[-1] is None
