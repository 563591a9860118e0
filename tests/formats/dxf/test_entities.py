"""DXF entities of other programs become paths: exact where they are lines and arcs."""

import io
import math

import ezdxf
import pytest
from ezdxf.math import Matrix44

from dielines.formats.deviation import distance_to
from dielines.formats.dxf.reading import read_dxf
from dielines.paths import arc_of, bounds_of, length_of, signed_area


@pytest.fixture
def sheet():
    return ezdxf.new("R2000", units=4)


def reading(sheet):
    stream = io.StringIO()
    sheet.write(stream)
    return read_dxf(stream.getvalue().encode(), "foreign.dxf")


def only_path(sheet):
    (item,) = reading(sheet).drawing.items()
    return item.path


@pytest.mark.parametrize(
    ("angle_deg", "bulge"),  # tan(angle / 4): DXF Reference, VERTEX; numbers computed
    [(30, 0.131652), (45, 0.198912), (60, 0.267949), (90, 0.414214), (120, 0.577350), (180, 1.0)],
)
def test_an_arc_has_the_bulge_of_its_angle(sheet, angle_deg, bulge):
    sheet.modelspace().add_arc((100 / 3, 7), 22 / 7, 10, 10 + angle_deg)
    path = only_path(sheet)
    assert (len(path.vertices), path.closed) == (2, False)
    assert path.vertices[0].bulge == pytest.approx(bulge, abs=5e-7)
    assert path.vertices[0].point == pytest.approx(
        (100 / 3 + 22 / 7 * math.cos(math.radians(10)), 7 + 22 / 7 * math.sin(math.radians(10)))
    )


@pytest.mark.parametrize("angle_deg", [181, 270, 359.9])
def test_more_than_half_a_circle_becomes_two_arcs_of_one_circle(sheet, angle_deg):
    sheet.modelspace().add_arc((5, 7), 22 / 7, 350, 350 + angle_deg)
    path = only_path(sheet)
    assert (len(path.vertices), path.closed) == (3, False)
    assert length_of(path) == pytest.approx(22 / 7 * math.radians(angle_deg))
    for segment in path.segments():
        arc = arc_of(segment)
        assert (*arc.centre, arc.radius) == pytest.approx((5, 7, 22 / 7))


def test_an_arc_that_ends_where_it_begins_goes_all_the_way_round(sheet):
    sheet.modelspace().add_arc((5, 7), 3, 45, 45)
    assert length_of(only_path(sheet)) == pytest.approx(6 * math.pi)


def test_an_arc_of_270_degrees_in_one_bulge_reads_as_it_is(sheet):
    sheet.modelspace().add_lwpolyline([(0, 0, 2.414214), (1, 0, 0)], format="xyb")
    path = only_path(sheet)
    assert arc_of(next(path.segments())).sweep == pytest.approx(math.radians(270), abs=1e-6)


def test_a_positive_bulge_lies_to_the_right_of_the_way(sheet):
    sheet.modelspace().add_lwpolyline([(0, 0, 1), (1, 0, 0)], format="xyb")
    box = bounds_of([only_path(sheet)])  # centre (.5, 0), radius .5: ezdxf, test_601_bulge.py
    assert tuple(box) == pytest.approx((0, -0.5, 1, 0))


def test_a_circle_is_closed_and_exact(sheet):
    sheet.modelspace().add_circle((1 / 3, 2 / 7), 3.175)
    path = only_path(sheet)
    assert path.closed
    assert signed_area(path) == pytest.approx(math.pi * 3.175**2, rel=1e-14)


@pytest.mark.parametrize("kind", ["arc", "circle", "lwpolyline", "polyline"])
def test_what_is_turned_over_is_mirrored(sheet, kind):
    space = sheet.modelspace()
    down = {"extrusion": (0, 0, -1)}
    points = [(10, 1, 0.3), (20, 2, -0.5), (25, 9, 0)]
    if kind == "arc":
        space.add_arc((10, 5), 4, 20, 100, dxfattribs=down)
    elif kind == "circle":
        space.add_circle((10, 5), 4, dxfattribs=down)
    elif kind == "lwpolyline":
        space.add_lwpolyline(points, format="xyb", dxfattribs=down)
    else:
        space.add_polyline2d(points, format="xyb", dxfattribs=down)
    mirrored = only_path(sheet)
    space[0].dxf.discard("extrusion")
    plain = only_path(sheet)
    if kind != "circle":  # whose half arcs may begin anywhere
        expected = [(-v.x, v.y, -v.bulge) for v in plain.vertices]
        assert [(v.x, v.y, v.bulge) for v in mirrored.vertices] == expected
    left, right = bounds_of([plain]), bounds_of([mirrored])
    assert (right.left, right.right, right.bottom, right.top) == pytest.approx(
        (-left.right, -left.left, left.bottom, left.top)
    )


def test_a_tilted_circle_is_seen_as_an_ellipse(sheet):
    circle = sheet.modelspace().add_circle((0, 0), 50)
    circle.transform(Matrix44.x_rotate(math.radians(60)) @ Matrix44.translate(70, 80, 5))
    path = only_path(sheet)
    assert path.closed
    assert tuple(bounds_of([path])) == pytest.approx((20, 55, 120, 105), abs=0.01)
    worst = max(abs(math.hypot((v.x - 70) / 50, (v.y - 80) / 25) - 1) for v in path.vertices)
    assert worst < 1e-3


@pytest.mark.parametrize(("insunits", "mm"), [(4, 1.0), (1, 25.4), (6, 1000.0)])
def test_an_ellipse_becomes_chords_within_a_hundredth_of_a_mm(sheet, insunits, mm):
    sheet.header["$INSUNITS"] = insunits
    a, b = 90 / mm, 40 / mm
    sheet.modelspace().add_ellipse((100 / 3 / mm, 7 / mm), (a, 0), b / a)
    path = only_path(sheet)
    assert path.closed
    assert not any(v.bulge for v in path.vertices)
    assert math.dist(path.vertices[0].point, path.vertices[-1].point) > 0.01
    assert worst_sag(path, lambda t: (100 / 3 + 90 * math.cos(t), 7 + 40 * math.sin(t))) <= 0.01
    assert 30 < len(path.vertices) < 2000


def worst_sag(path, curve):
    segments = list(path.segments())
    places = [curve(i * math.tau / 720) for i in range(720)]
    return max(min(distance_to(place, segment) for segment in segments) for place in places)


def test_part_of_an_ellipse_stays_open(sheet):
    sheet.modelspace().add_ellipse((0, 0), (90, 0), 0.5, 0, math.pi / 2)
    path = only_path(sheet)
    assert not path.closed
    ends = path.vertices[0], path.vertices[-1]
    assert [v.x for v in ends] == pytest.approx([90, 0], abs=1e-9)
    assert [v.y for v in ends] == pytest.approx([0, 45], abs=1e-9)


def test_a_spline_becomes_chords_within_a_hundredth_of_a_mm(sheet):
    controls = [(0, 0), (100 / 3, 90), (80, -60), (120, 10)]
    sheet.modelspace().add_open_spline([(x, y, 0) for x, y in controls])
    path = only_path(sheet)

    def bezier(turn):  # a cubic spline of four points is the Bezier curve of them
        t = turn / math.tau
        weights = ((1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t * t * (1 - t), t**3)
        return tuple(sum(w * c[i] for w, c in zip(weights, controls, strict=True)) for i in (0, 1))

    assert not path.closed
    assert worst_sag(path, bezier) <= 0.01


def test_a_closed_spline_is_closed(sheet):
    sheet.modelspace().add_spline().set_closed([(0, 0, 0), (40, 0, 0), (40, 30, 0), (0, 30, 0)])
    path = only_path(sheet)
    assert path.closed
    assert math.dist(path.vertices[0].point, path.vertices[-1].point) > 0.01


def test_points_that_only_steer_a_smoothed_polyline_are_left_out(sheet):
    polyline = sheet.modelspace().add_polyline2d([(0, 0), (5, 9), (10, 0)])
    polyline.dxf.flags |= 4
    polyline.vertices[1].dxf.flags = 16
    assert [v.point for v in only_path(sheet).vertices] == [(0, 0), (10, 0)]


def test_a_polyline_in_space_is_seen_from_above(sheet):
    sheet.modelspace().add_polyline3d([(0, 0, 5), (7, 0, 9), (7, 3, -2)], close=True)
    path = only_path(sheet)
    assert ([v.point for v in path.vertices], path.closed) == ([(0, 0), (7, 0), (7, 3)], True)


@pytest.mark.parametrize("radius", [0, -3])
def test_a_circle_without_a_radius_is_left_out_and_told(sheet, radius):
    sheet.modelspace().add_circle((0, 0), 5).dxf.__dict__["radius"] = radius
    found = reading(sheet)
    assert found.drawing.items() == ()
    assert "broken" in found.remark_codes()


def test_what_is_no_line_is_left_out_and_told(sheet):
    space = sheet.modelspace()
    space.add_point((1, 2))
    space.add_solid([(0, 0), (1, 0), (1, 1)])
    space.add_mesh()
    space.add_line((0, 0), (1, 1))
    found = reading(sheet)
    assert len(found.drawing.items()) == 1
    assert "left-out" in found.remark_codes()


@pytest.mark.parametrize("number", ["nan", "inf", "1e300", "2e9"])
def test_numbers_beyond_all_bounds_are_left_out_and_told(file_of, line_of, number):
    content = file_of(*line_of(0, 0, number, 1), *line_of(0, 0, 7, 1))
    found = read_dxf(content, "foreign.dxf")
    assert [len(item.path.vertices) for item in found.drawing.items()] == [2]
    assert "broken" in found.remark_codes()


def test_a_bulge_too_small_to_see_is_straight(sheet):
    sheet.modelspace().add_lwpolyline([(0, 0, 1e-320), (9, 0, 1e-13), (9, 9, 0)], format="xyb")
    assert [v.bulge for v in only_path(sheet).vertices] == [0, 0, 0]


def test_a_spline_of_absurd_size_costs_no_more_than_a_small_one(sheet):
    sheet.modelspace().add_open_spline([(0, 0, 0), (3e8, 9e8, 0), (8e8, -6e8, 0), (9e8, 1, 0)])
    assert len(only_path(sheet).vertices) < 5000


def test_text_becomes_captions(sheet):
    space = sheet.modelspace()
    space.add_text("Page %%d 1", height=3.5, rotation=15).set_placement((1, 2))
    space.add_mtext("two\\Plines", dxfattribs={"insert": (5, 6), "char_height": 2.5})
    captions = reading(sheet).drawing.groups[0].captions
    assert [(c.text, c.at, c.height, c.angle_deg) for c in captions] == [
        ("Page ° 1", (1, 2), 3.5, 15), ("two lines", (5, 6), 2.5, 0),
    ]  # fmt: skip
