"""Corners of paper that are too sharp. The angle is from memory; all else is plane geometry."""

import math
from fractions import Fraction

import pytest
from flat_spoils import (
    SIXTHS,
    flat_book,
    found_in,
    spoiled,
    with_cut,
    with_hole,
    with_outline,
    with_ring,
)

from dielines.checks.finding import Severity
from dielines.checks.rules import sliver_too_sharp as rule
from dielines.paths import Path, Vertex, polyline


@pytest.fixture
def book(folded_of):
    folded = folded_of(SIXTHS)
    return flat_book(folded.book, folded.workshop)


def the_finding(folded, key, change):
    (finding,) = found_in(rule, spoiled(folded, key, change))
    assert finding.spot.part == key
    assert finding.severity is Severity.WARNING
    assert finding.amount.unit == "degrees"
    return finding


def degrees(rise, run):
    return math.degrees(math.atan2(rise, run))


def test_a_pointed_outline_is_a_sliver(book):
    points = [(0, 0), (37, 0), (Fraction(37, 2), 109)]
    found = the_finding(book, "spine-board", lambda p: with_outline(p, *points))
    assert found.amount.value == pytest.approx(20 - 2 * degrees(18.5, 109))
    assert tuple(map(float, found.spot.point)) == (18.5, 109.0)


def test_a_slit_that_meets_the_edge_aslant_leaves_a_sliver(book):
    found = the_finding(book, "page-4", lambda p: with_cut(p, "page", (100, 0), (135, 10)))
    assert found.amount.value == pytest.approx(20 - degrees(10, 35))
    assert found.spot.panel == "page"


def test_two_slits_that_meet_leave_a_sliver(book):
    def change(part):
        return with_cut(part, "page", (130, 40), (90, 50), (130, 51))

    found = the_finding(book, "page-4", change)
    assert found.amount.value == pytest.approx(20 - degrees(10, 40) - degrees(1, 40))


def test_a_slit_that_ends_on_the_side_of_a_window_leaves_a_sliver(book):
    def change(part):
        hole = polyline([(80, 20), (160, 20), (160, 60), (80, 60)], closed=True)
        return with_cut(with_hole(part, "page", hole), "page", (100, 60), (130, 67))

    found = the_finding(book, "page-4", change)
    assert found.amount.value == pytest.approx(20 - degrees(7, 30))


def test_an_edge_and_an_arc_that_nearly_touches_it_leave_a_sliver(book):
    # Chord and tangent of an arc of 40 degrees differ by 20 (Euclid, Elements III.32).
    bulge = -math.tan(math.radians(10))
    ring = Path((Vertex(0, 0), Vertex(100, 0), Vertex(100, 60, bulge)))
    found = the_finding(book, "spine-board", lambda p: with_ring(p, ring))
    assert found.amount.value == pytest.approx(20 - (degrees(60, 100) - 20))


def test_a_window_with_a_sharp_corner_leaves_paper_all_round_it(book):
    hole = polyline([(80, 20), (160, 20), (160, 30)], closed=True)
    assert found_in(rule, spoiled(book, "page-4", lambda p: with_hole(p, "page", hole))) == []


def test_a_corner_of_exactly_twenty_degrees_is_none(book):
    points = [(0, 0), (100, 0), (100, 100 * math.tan(math.radians(20)))]
    assert found_in(rule, spoiled(book, "spine-board", lambda p: with_outline(p, *points))) == []


def test_a_sharp_gap_between_two_edges_is_air(book):
    # places that are no whole thousandths of a mm, as those of tapered tabs
    third = 109 / 3
    gap = [(0, 0), (37, 0), (37, 109), (0, 109), (0, third + 4), (30 + 1 / 7, third), (0, third)]
    assert found_in(rule, spoiled(book, "spine-board", lambda p: with_outline(p, *gap))) == []
