"""Poses: exact where they can be, and the same turns as an independent library makes.

Checked against ezdxf's matrices (ezdxf.math.Matrix44, an implementation of its
own); the sign rule is that of the FOLD specification 1.2: valley positive.
"""

import math
from fractions import Fraction

import pytest
from ezdxf.math import Matrix44, Vec3
from hypothesis import given, settings
from hypothesis import strategies as st

from dielines.paths import Point
from dielines.rigid import (
    AT_REST,
    Pose,
    cosine_and_sine,
    distance_between,
    relative,
    turn_about,
)

UP = (Point(Fraction(10, 3), Fraction(0)), Point(Fraction(10, 3), Fraction(50, 7)))
ACROSS = (Point(Fraction(0), Fraction(22, 7)), Point(Fraction(9), Fraction(22, 7)))
OBLIQUE = (Point(Fraction(1, 3), Fraction(2, 7)), Point(Fraction(5, 3), Fraction(9, 7)))

fractions = st.fractions(-300, 300, max_denominator=700)
points = st.builds(Point, fractions, fractions)
quarters = st.sampled_from([Fraction(90 * n) for n in range(-2, 3)])
angles = st.one_of(quarters, st.fractions(-180, 180, max_denominator=7), st.floats(-180, 180))


def turned_by_ezdxf(start: Point, end: Point, angle: float, place: Vec3) -> Vec3:
    origin = Vec3(float(start.x), float(start.y))
    axis = Vec3(float(end.x), float(end.y)) - origin
    turn = Matrix44.axis_rotate(axis, math.radians(angle))
    return turn.transform(place - origin) + origin


def is_exact(pose: Pose) -> bool:
    entries = [number for row in pose.rotation for number in row]
    return all(isinstance(number, int | Fraction) for number in entries) and all(
        isinstance(number, Fraction) for number in pose.translation
    )


def test_a_positive_quarter_turn_lifts_what_lies_left_of_the_line_to_the_face_side():
    pose = turn_about(*UP, Fraction(90))
    assert pose.at((Fraction(0), Fraction(1, 7))) == (
        Fraction(10, 3),
        Fraction(1, 7),
        Fraction(10, 3),
    )


def test_a_negative_quarter_turn_drops_it_to_the_reverse_side():
    pose = turn_about(*UP, Fraction(-90))
    assert pose.at((Fraction(0), Fraction(1, 7))) == (
        Fraction(10, 3),
        Fraction(1, 7),
        Fraction(-10, 3),
    )


@pytest.mark.parametrize(
    "angle", [Fraction(-180), Fraction(-90), Fraction(90), Fraction(180), 90.0, Fraction(270)]
)
@pytest.mark.parametrize("ends", [UP, ACROSS, UP[::-1], ACROSS[::-1]])
def test_quarter_turns_about_upright_and_level_lines_are_exact(ends, angle):
    assert is_exact(turn_about(*ends, angle))


def test_a_half_turn_about_an_oblique_line_is_exact_and_mirrors_in_it():
    pose = turn_about(
        Point(Fraction(1, 3), Fraction(0)), Point(Fraction(0), Fraction(1, 3)), Fraction(-180)
    )
    assert is_exact(pose)
    assert pose.at((Fraction(0), Fraction(0))) == (Fraction(1, 3), Fraction(1, 3), Fraction(0))


def test_no_turn_is_no_motion_even_about_an_oblique_line():
    assert turn_about(*OBLIQUE, Fraction(0)) == AT_REST
    assert turn_about(Point(0.1, 0.2), Point(0.8, 1.7), 0.0) == AT_REST


@pytest.mark.parametrize(
    ("angle", "expected"), [(0, (1, 0)), (90, (0, 1)), (-180, (-1, 0)), (270, (0, -1))]
)
def test_cosines_and_sines_of_quarter_turns_are_whole(angle, expected):
    assert cosine_and_sine(Fraction(angle)) == expected


def test_cosine_and_sine_of_sixty_degrees():
    assert cosine_and_sine(Fraction(60)) == pytest.approx((0.5, math.sqrt(3) / 2), abs=1e-15)


@given(points, points, angles, points, fractions)
@settings(max_examples=150, deadline=None)
def test_turns_are_those_of_an_independent_library(start, end, angle, point, z):
    if start == end:
        return
    ours = turn_about(start, end, angle).at(point, z)
    place = Vec3(float(point.x), float(point.y), float(z))
    theirs = turned_by_ezdxf(start, end, float(angle), place)
    assert distance_between(ours, tuple(theirs)) < 1e-9


@given(points, points, quarters, quarters)
@settings(max_examples=60, deadline=None)
def test_an_exact_motion_and_its_inverse_cancel_exactly(start, other, angle, other_angle):
    level, upright = Point(start.x + 1, start.y), Point(other.x, other.y + 1)
    pose = turn_about(start, level, angle).compose(turn_about(other, upright, other_angle))
    assert is_exact(pose)
    assert is_exact(pose.inverse())
    assert pose.compose(pose.inverse()) == AT_REST
    assert pose.inverse().compose(pose) == AT_REST


def test_composing_does_the_inner_motion_first():
    about_up, about_across = turn_about(*UP, Fraction(90)), turn_about(*ACROSS, Fraction(90))
    point = (Fraction(1, 7), Fraction(1, 3))
    inner = about_across.at(point)
    assert about_up.compose(about_across).at(point) == about_up.at(inner[:2], inner[2])


def test_a_relative_motion_takes_one_drawing_into_the_other():
    front, back = turn_about(*UP, Fraction(90)), turn_about(*ACROSS, Fraction(-180))
    motion = relative(front, back)
    x, y, z = motion.at((Fraction(2, 7), Fraction(5, 3)))
    assert front.at((x, y), z) == back.at((Fraction(2, 7), Fraction(5, 3)))


def test_the_normal_is_where_the_face_looks():
    assert AT_REST.normal == (0, 0, 1)
    assert turn_about(*UP, Fraction(90)).normal == (1, 0, 0)
    assert turn_about(*UP, Fraction(180)).normal == (0, 0, -1)


def test_four_hundred_oblique_folds_leave_the_rotation_orthogonal():
    pose = AT_REST
    for angle in [180, 90, 37, -Fraction(360, 7)] * 100:
        pose = pose.compose(turn_about(*OBLIQUE, Fraction(angle)))
    product = pose.compose(pose.inverse())
    for row, rest in zip(product.rotation, AT_REST.rotation, strict=True):
        assert [float(n) for n in row] == pytest.approx(rest, abs=1e-12)


def test_a_line_without_length_is_no_axis():
    with pytest.raises(ValueError, match="length"):
        turn_about(UP[0], UP[0], Fraction(90))
