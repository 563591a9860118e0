"""Notches, round corners and the corners that are left of an outline."""

import math
from fractions import Fraction

import pytest

from dielines.book.outlines import QUARTER, corners_of, notches_of, roundings_of
from dielines.part_motion import LEFT_EDGE_TO, MIRROR
from dielines.paths import Path, Vertex, polyline, rectangle

SEVENTH = Fraction(50, 7)
BEFORE, AFTER = Fraction(20), 20 + 2 * SEVENTH
BAYS = {
    "round": [Vertex(90, BEFORE, Fraction(-1)), Vertex(90, AFTER)],
    "vee": [Vertex(90, BEFORE), Vertex(90 - SEVENTH, BEFORE + SEVENTH), Vertex(90, AFTER)],
    "square": [Vertex(90, BEFORE), Vertex(85, BEFORE), Vertex(85, AFTER), Vertex(90, AFTER)],
}
NO_BAYS = {
    "a bump": [Vertex(90, BEFORE, Fraction(1)), Vertex(90, AFTER)],
    "a tooth": [Vertex(90, BEFORE), Vertex(95, BEFORE), Vertex(95, AFTER), Vertex(90, AFTER)],
    "a step": [Vertex(90, BEFORE), Vertex(85, BEFORE), Vertex(85, 60)],
    "two arcs": [Vertex(90, BEFORE, -0.3), Vertex(88, 25, -0.3), Vertex(90, AFTER)],
}


def outline(right_edge: list[Vertex]) -> Path:
    """A page of 90 x 60 with something in its right edge."""
    last = right_edge[-1]
    top = [Vertex(90, 60)] if last.x == 90 else []
    return Path((Vertex(0, 0), Vertex(90, 0), *right_edge, *top, Vertex(0, 60)))


@pytest.mark.parametrize("style", BAYS)
@pytest.mark.parametrize("edge", ["left", "right", "top", "bottom"])
def test_a_notch_is_found_in_any_edge(style, edge):
    at_left = MIRROR.path(outline(BAYS[style]))
    (notch,) = notches_of(LEFT_EDGE_TO[edge].path(at_left))
    assert (notch.style, notch.where) == (style, edge)
    sides = sorted(map(float, (notch.box.width, notch.box.height)))
    depth = 5.0 if style == "square" else float(SEVENTH)
    assert sides == pytest.approx([depth, float(2 * SEVENTH)])


# Plane geometry: an arc of the angle a over the chord c has the bulge tan(a / 4), the radius
# c / (2 sin(a / 2)), and its middle at radius x cos(a / 2) from the chord.
@pytest.mark.parametrize("angle_deg", [40, 110, 180, 250])
def test_a_round_notch_tells_its_circle_and_how_far_outside_the_middle_lies(angle_deg):
    half = math.radians(angle_deg / 2)
    vertices = [Vertex(90, BEFORE, -math.tan(half / 2)), Vertex(90, AFTER)]
    (notch,) = notches_of(outline(vertices))
    radius = float(SEVENTH) / math.sin(half)
    assert notch.diameter == pytest.approx(2 * radius)
    assert notch.beyond == pytest.approx(radius * math.cos(half), abs=1e-9)


def test_a_notch_that_is_not_round_has_no_circle():
    assert [notches_of(outline(BAYS[style]))[0].diameter for style in ("vee", "square")] == [0, 0]


@pytest.mark.parametrize("shape", NO_BAYS)
def test_what_juts_out_or_steps_back_is_no_notch(shape):
    assert notches_of(outline(NO_BAYS[shape])) == []


def test_two_notches_in_one_edge_are_two():
    vertices = [Vertex(90, 10, Fraction(-1)), Vertex(90, 20), Vertex(90, 30, Fraction(-1)), Vertex(90, 40)]  # fmt: skip
    assert [notch.where for notch in notches_of(outline(vertices))] == ["right", "right"]


def test_a_quarter_of_a_circle_is_a_round_corner():
    path = Path(
        (Vertex(0, 0), Vertex(85, 0, QUARTER), Vertex(90, 5), Vertex(90, 60), Vertex(5, 60, QUARTER),
         Vertex(0, 55))
    )  # fmt: skip
    corners = roundings_of(path)
    assert sorted(corner.where for corner in corners) == ["bottom right", "top left"]
    assert all(float(corner.box.width) == pytest.approx(5) for corner in corners)
    assert corners_of(path) == ()


@pytest.mark.parametrize("style", BAYS)
def test_a_rectangle_stays_one_whatever_is_cut_into_it(style):
    assert corners_of(outline(BAYS[style])) == ()
    assert corners_of(rectangle(0, 0, SEVENTH, 3)) == ()


def test_corners_run_clockwise_from_the_top_left():
    taper = polyline([(0, 0), (40, 0), (90, 7), (90, 53), (40, 60), (0, 60)], closed=True)
    for turn in range(6):
        vertices = (*taper.vertices[turn:], *taper.vertices[:turn])
        assert corners_of(Path(vertices)) == ((0, 60), (40, 60), (90, 53), (90, 7), (40, 0), (0, 0))


def test_corners_of_a_notch_are_not_among_those_of_the_outline():
    vertices = [Vertex(90, 7), *BAYS["vee"], Vertex(90, 53), Vertex(40, 60)]
    path = Path((Vertex(0, 0), Vertex(40, 0), *vertices, Vertex(0, 60)))
    assert len(corners_of(path)) == 6
