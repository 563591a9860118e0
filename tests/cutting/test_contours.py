"""Closed cuts: outlines and openings, corners, starts along the way."""

from __future__ import annotations

import math

import pytest

from dielines.cutting.contours import corners_of, outlines_and_openings, started_along
from dielines.drawing import Item, Layer
from dielines.formats.deviation import deviation
from dielines.paths import Path, Vertex, circle, length_of, line, polyline, rectangle, signed_area

STADIUM = Path((Vertex(0, 0), Vertex(40, 0, 1), Vertex(40, 20), Vertex(0, 20, 1)))


def test_outlines_and_openings_take_turns_from_the_outside_in():
    rings = [rectangle(0, 0, 90, 90), rectangle(20, 20, 30, 30), rectangle(10, 10, 80, 80)]
    items = [Item(Layer.CUT, ring) for ring in rings]
    others = [Item(Layer.CUT, line((1, 1), (5, 5))), Item(Layer.MARK, rectangle(5, 5, 85, 85))]
    assert outlines_and_openings([*others, *items]) == {2: True, 3: True, 4: False}


def test_smooth_joints_are_no_corners():
    assert corners_of(STADIUM) == []
    assert corners_of(circle((1, 2), 3)) == []
    drop = Path((Vertex(0, 0), Vertex(40, 0, 1), Vertex(40, 20)))
    assert corners_of(drop) == pytest.approx([0, 40 + 10 * math.pi])


def test_a_joint_that_turns_a_little_is_smooth_and_one_that_turns_back_is_a_corner():
    bent = polyline([(0, 0), (50, 0), (100, 3), (100, 90), (0, 90)], True)
    assert len(corners_of(bent)) == 4
    thorn = polyline([(0, 0), (100, 0), (100, 50), (100.5, 90), (100, 50.001), (0, 50)], True)
    assert any(along == pytest.approx(190, abs=0.1) for along in corners_of(thorn))


@pytest.mark.parametrize("along", [1 / 7, 40.0, 47.3, 103.1])
def test_a_path_started_elsewhere_is_the_same_path(along):
    turned = started_along(STADIUM, along)
    assert turned.closed
    assert deviation(turned, STADIUM) < 1e-9
    assert length_of(turned) == pytest.approx(length_of(STADIUM))
    assert float(signed_area(turned)) == pytest.approx(float(signed_area(STADIUM)))


def test_a_path_started_at_its_start_stays_as_it_is():
    assert started_along(STADIUM, 0.0) is STADIUM
