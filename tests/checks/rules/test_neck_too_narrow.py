"""Necks of paper that are too narrow. The widths are from memory; all else is geometry."""

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
from dielines.checks.rules import neck_too_narrow as rule
from dielines.checks.rules import strip_too_narrow
from dielines.paths import Path, Vertex, rectangle

WEAK = Fraction(29, 7)  #: 4.14 mm
TORN = Fraction(11, 7)  #: 1.57 mm


@pytest.fixture
def book(folded_of):
    folded = folded_of(SIXTHS)
    return flat_book(folded.book, folded.workshop)


def the_finding(folded, key, change):
    (finding,) = found_in(rule, spoiled(folded, key, change))
    assert finding.spot.part == key
    return finding


def test_slits_from_both_ends_of_a_fold_leave_a_neck_that_holds_the_tab(book):
    def change(part):
        half = Fraction(103, 2)
        part = with_cut(part, "page", (12, 0), (12, half - WEAK / 2))
        return with_cut(part, "page", (12, half + WEAK / 2), (12, 103))

    found = the_finding(book, "page-3", change)
    assert found.severity is Severity.WARNING
    assert float(found.amount.value) == pytest.approx(float(5 - WEAK), abs=0.001)
    assert "hinge tab" in found.message
    assert found.spot.point.y == pytest.approx(51.5)


def test_a_waist_of_a_part_is_a_neck(book):
    left, right = Fraction(37, 2) - TORN / 2, Fraction(37, 2) + TORN / 2
    waist = [
        (0, 0),
        (37, 0),
        (37, 40),
        (right, 50),
        (37, 60),
        (37, 109),
        (0, 109),
        (0, 60),
        (left, 50),
        (0, 40),
    ]
    found = the_finding(book, "spine-board", lambda p: with_outline(p, *waist))
    assert found.severity is Severity.ERROR
    assert float(found.amount.value) == pytest.approx(2 - float(TORN))


def test_a_tongue_on_a_narrow_stem_is_held_by_a_neck(book):
    stem = [
        (0, 0),
        (37, 0),
        (37, 60),
        (16 + WEAK, 60),
        (16 + WEAK, 80),
        (37, 80),
        (37, 109),
        (0, 109),
        (0, 80),
        (16, 80),
        (16, 60),
        (0, 60),
    ]
    found = the_finding(book, "spine-board", lambda p: with_outline(p, *stem))
    assert float(found.amount.value) == pytest.approx(float(5 - WEAK))


def test_a_slit_that_nearly_meets_the_far_edge_leaves_a_neck(book):
    found = the_finding(book, "page-4", lambda p: with_cut(p, "page", (100, 0), (100, 103 - WEAK)))
    assert float(found.amount.value) == pytest.approx(float(5 - WEAK))
    assert found.spot.panel == "page"


def test_two_round_bays_leave_a_neck(book):
    half = (37 - TORN) / 2
    ring = Path((
        Vertex(0, 0), Vertex(37, 0), Vertex(37, 54 - half, -1), Vertex(37, 54 + half),
        Vertex(37, 109), Vertex(0, 109), Vertex(0, 54 + half, -1), Vertex(0, 54 - half),
    ))  # fmt: skip
    found = the_finding(book, "spine-board", lambda p: with_ring(p, ring))
    assert float(found.amount.value) == pytest.approx(2 - float(TORN), abs=0.05)


def test_a_slit_that_goes_round_a_corner_leaves_a_neck(book):
    def change(part):
        return with_cut(part, "page", (100, 0), (100, 60), (193 - WEAK, 60))

    assert float(the_finding(book, "page-4", change).amount.value) == pytest.approx(float(5 - WEAK))


def test_a_window_near_the_edge_leaves_no_neck_but_a_strip(book):
    hole = rectangle(100, 1, 150, 60)
    folded = spoiled(book, "page-4", lambda p: with_hole(p, "page", hole))
    assert found_in(rule, folded) == []
    assert len(found_in(strip_too_narrow, folded)) == 1


def test_a_neck_is_no_strip_and_is_told_once(book):
    folded = spoiled(book, "page-4", lambda p: with_cut(p, "page", (100, 0), (100, 103 - TORN)))
    assert len(found_in(rule, folded)) == 1
    assert found_in(strip_too_narrow, folded) == []


def test_a_neck_that_is_just_wide_enough_holds(book):
    folded = spoiled(book, "page-4", lambda p: with_cut(p, "page", (100, 0), (100, 98)))
    assert found_in(rule, folded) == []
