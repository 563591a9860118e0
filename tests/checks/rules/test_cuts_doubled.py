"""Cuts and scores on one another. All of it is geometry."""

import math
from dataclasses import replace
from fractions import Fraction

import pytest
from flat_spoils import (
    SIXTHS,
    flat_book,
    found_in,
    spoiled,
    with_cut,
    with_hole,
    with_ring,
    with_score,
    with_slit_for_fold,
)

from dielines.checks.finding import Severity
from dielines.checks.rules import cuts_doubled as rule
from dielines.part import Purpose, Stroke
from dielines.paths import Path, Vertex, circle


@pytest.fixture
def book(folded_of):
    folded = folded_of(SIXTHS)
    return flat_book(folded.book, folded.workshop)


def the_finding(folded, key, change):
    (finding,) = found_in(rule, spoiled(folded, key, change))
    assert finding.spot.part == key
    assert finding.severity is Severity.WARNING
    return finding


def test_a_slit_that_is_there_twice(book):
    def change(part):
        part = with_cut(part, "page", (80, 30), (80 + Fraction(50, 7), 30))
        return with_cut(part, "page", (80 + Fraction(50, 7), 30), (80, 30))

    found = the_finding(book, "page-4", change)
    assert float(found.amount.value) == pytest.approx(50 / 7)


def test_slits_that_overlap_for_some_way(book):
    def change(part):
        part = with_cut(part, "page", (80, 30), (110, 51))
        return with_cut(part, "page", (100, 44), (120, 58))

    found = the_finding(book, "page-4", change)
    assert float(found.amount.value) == pytest.approx(math.dist((100, 44), (110, 51)))
    assert float(found.spot.point.x) == pytest.approx(105)


def test_a_slit_along_the_outline(book):
    found = the_finding(book, "page-4", lambda p: with_cut(p, "page", (193, 20), (193, 51)))
    assert float(found.amount.value) == pytest.approx(31)


def test_a_hole_punched_twice(book):
    def change(part):
        part = with_hole(part, "page", circle((100, 50), Fraction(30, 7)))
        return with_hole(part, "page", circle((100, 50), Fraction(30, 7)))

    found = the_finding(book, "page-4", change)
    assert float(found.amount.value) == pytest.approx(2 * math.pi * 30 / 7, rel=0.01)


def test_a_slit_drawn_on_a_slit_between_panels(book):
    def change(part):
        part = with_slit_for_fold(part, "binding.tab | binding.channel")
        return with_cut(part, "binding.tab", (12, 40), (12, 51))

    assert float(the_finding(book, "page-3", change).amount.value) == pytest.approx(11)


def test_an_outline_that_runs_back_on_itself(book):
    ring = Path(
        tuple(
            Vertex(*p) for p in [(0, 0), (37, 0), (37, 60), (30, 60), (37, 60), (37, 109), (0, 109)]
        )
    )
    found = the_finding(book, "spine-board", lambda p: with_ring(p, ring))
    assert float(found.amount.value) == pytest.approx(7)


def test_a_score_that_is_there_twice(book):
    found = the_finding(book, "page-3", lambda p: with_score(p, "page", (18, 20), (18, 31)))
    assert "scored" in found.message
    assert float(found.amount.value) == pytest.approx(11)


def test_lines_that_cross_or_go_on_are_not_doubled(book):
    def change(part):
        part = with_cut(part, "page", (80, 30), (110, 30))
        part = with_cut(part, "page", (110, 30), (140, 30))
        return with_cut(part, "page", (90, 10), (90, 60))

    assert found_in(rule, spoiled(book, "page-4", change)) == []


def test_slits_that_overlap_by_no_more_than_rounding_are_not_doubled(book):
    def change(part):
        part = with_cut(part, "page", (80, 30), (110, 30))
        return with_cut(part, "page", (109.95, 30), (140, 30))

    assert found_in(rule, spoiled(book, "page-4", change)) == []


def test_arcs_of_one_circle_that_overlap_are_doubled(book):
    # from 0 to 120 degrees, and from 90 to 180, both of a radius of 30/7 round (100, 50)
    def arc(start, sweep):
        radius, first = 30 / 7, math.radians(start)
        last = first + math.radians(sweep)
        bulge = math.tan(math.radians(sweep) / 4)
        x, y = 100 + radius * math.cos(first), 50 + radius * math.sin(first)
        end = (100 + radius * math.cos(last), 50 + radius * math.sin(last))
        return Path((Vertex(x, y, bulge), Vertex(*end)), closed=False)

    def change(part):
        strokes = [Stroke("page", Purpose.CUT, arc(*ends)) for ends in ((0, 120), (180, -90))]
        return replace(part, strokes=(*part.strokes, *strokes))

    found = the_finding(book, "page-4", change)
    assert float(found.amount.value) == pytest.approx(30 / 7 * math.pi / 6)
    turned = math.radians(105)
    middle = (100 + 30 / 7 * math.cos(turned), 50 + 30 / 7 * math.sin(turned))
    assert tuple(map(float, found.spot.point)) == pytest.approx(middle)


def test_cuts_that_part_at_a_small_angle_are_not_doubled(book):
    def change(part):
        part = with_cut(part, "page", (80, 30), (120, 30))
        return with_cut(part, "page", (80, 30), (120, 31))

    assert found_in(rule, spoiled(book, "page-4", change)) == []


@pytest.mark.parametrize(
    "ends", [((120, 30), (120, Fraction(303, 10))), ((Fraction(803, 10), 30), (120, 31))]
)
def test_slits_that_part_at_their_tip_are_not_doubled_there(book, ends):
    def change(part):
        part = with_cut(part, "page", (80, 30), ends[0])
        return with_cut(part, "page", (80, 30), ends[1])

    assert found_in(rule, spoiled(book, "page-4", change)) == []


def test_a_ring_round_a_hole_is_not_the_hole(book):
    def change(part):
        part = with_hole(part, "page", circle((100, 50), Fraction(30, 7)))
        ring = circle((100, 50), Fraction(37, 7))
        return replace(part, strokes=(*part.strokes, Stroke("page", Purpose.CUT, ring)))

    assert found_in(rule, spoiled(book, "page-4", change)) == []
