"""Strips of paper that are too narrow. The widths are from memory; all else is geometry."""

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
from spoiling import stretched

from dielines.checks.finding import Severity
from dielines.checks.rules import strip_too_narrow as rule
from dielines.paths import Path, Vertex, circle, rectangle

NARROW = Fraction(10, 7)
TORN = Fraction(3, 7)


@pytest.fixture
def book(folded_of):
    folded = folded_of(SIXTHS)
    return flat_book(folded.book, folded.workshop)


def the_finding(folded, key, change):
    (finding,) = found_in(rule, spoiled(folded, key, change))
    assert finding.spot.part == key
    return finding


def test_a_slit_beside_the_edge_leaves_a_strip(book):
    y = 103 - NARROW
    found = the_finding(book, "page-4", lambda p: with_cut(p, "page", (90, y), (133, y)))
    assert found.severity is Severity.WARNING
    assert float(found.amount.value) == pytest.approx(float(2 - NARROW))
    assert found.spot.panel == "page"
    assert found.spot.point.y == pytest.approx(103 - float(NARROW) / 2)


def test_two_slits_side_by_side_leave_a_strip_that_tears(book):
    def change(part):
        part = with_cut(part, "page", (90, 40), (140, 40))
        return with_cut(part, "page", (100, 40 + TORN), (150, 40 + TORN))

    found = the_finding(book, "page-4", change)
    assert found.severity is Severity.ERROR
    assert float(found.amount.value) == pytest.approx(0.5 - float(TORN))
    assert found.spot.point.x == pytest.approx(120)


def test_a_punched_hole_near_the_edge_leaves_a_strip(book):
    hole = circle((193 - 4 - NARROW, Fraction(50)), 4)
    found = the_finding(book, "page-4", lambda p: with_hole(p, "page", hole))
    assert float(found.amount.value) == pytest.approx(float(2 - NARROW), abs=0.03)


def test_two_windows_near_each_other_leave_a_strip(book):
    def change(part):
        part = with_hole(part, "page", rectangle(80, 30, 100, 60))
        return with_hole(part, "page", rectangle(100 + TORN, 20, 130, 50))

    found = the_finding(book, "page-4", change)
    assert float(found.amount.value) == pytest.approx(0.5 - float(TORN))
    assert found.spot.point.y == pytest.approx(40)


def test_a_slit_from_the_edge_leaves_a_tongue(book):
    y = 103 - NARROW
    found = the_finding(book, "page-4", lambda p: with_cut(p, "page", (150, y), (193, y)))
    assert float(found.amount.value) == pytest.approx(float(2 - NARROW))


def test_the_end_of_a_slit_comes_near_a_window(book):
    def change(part):
        part = with_hole(part, "page", rectangle(80, 30, 100, 60))
        return with_cut(part, "page", (100 + TORN, 41), (140, 71))

    found = the_finding(book, "page-4", change)
    assert float(found.amount.value) == pytest.approx(0.5 - float(TORN))


def test_a_board_as_narrow_as_a_strip_is_one(book):
    found = the_finding(book, "spine-board", lambda p: stretched(p, "x", 18, NARROW - 37))
    assert float(found.amount.value) == pytest.approx(float(2 - NARROW))


def test_a_strip_that_is_just_wide_enough_is_none(book):
    folded = spoiled(book, "page-4", lambda p: with_cut(p, "page", (90, 101), (133, 101)))
    assert found_in(rule, folded) == []


def test_a_narrow_bay_is_air_and_no_strip(book):
    bay = [(0, 0), (37, 0), (37, 109), (20, 109), (20, 90), (19, 90), (19, 109), (0, 109)]
    assert found_in(rule, spoiled(book, "spine-board", lambda p: with_outline(p, *bay))) == []


def test_small_round_and_clipped_corners_are_no_strips(book):
    quarter = Fraction(41421, 100000)
    bends = [(1, 0), (36, 0, quarter), (37, 1), (37, 109), (1, 109), (0, 108), (0, 1, quarter)]
    ring = Path(tuple(Vertex(*bend) for bend in bends))
    assert found_in(rule, spoiled(book, "spine-board", lambda p: with_ring(p, ring))) == []


def test_alike_parts_are_told_once_and_further_places_counted(book):
    def change(part):
        part = with_cut(part, "page", (90, 102), (133, 102))
        return with_cut(part, "page", (90, 1), (133, 1))

    assert "1 more place" in the_finding(book, "page-4", change).message


def test_a_strip_of_board_is_as_wide_as_the_board_is_thick(folded_of):
    thick = (
        'units = "mm"\n[boards."thick"]\nroles = ["boards"]\ncaliper = "3 mm"\nsheets = ["A3"]\n'
    )
    folded = folded_of(SIXTHS, workshop=thick)
    book = flat_book(folded.book, folded.workshop)
    by = Fraction(18, 7) - book.book.part("spine-board").part.width
    found = the_finding(book, "spine-board", lambda p: stretched(p, "x", 18, by))
    assert float(found.amount.value) == pytest.approx(3 - 18 / 7)
