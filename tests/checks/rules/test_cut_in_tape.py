"""Cuts within zones of tape. All of it is geometry."""

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
    with_perforation,
)
from spoiling import changed_join, changed_zone, moved_zone

from dielines.checks.finding import Severity
from dielines.checks.rules import cut_in_tape as rule
from dielines.paths import circle, polyline, rectangle

PLAIN = SIXTHS.replace('"photo slits"', '"plain leaf"')


@pytest.fixture
def book(folded_of):
    folded = folded_of(PLAIN)
    return flat_book(folded.book, folded.workshop)


def the_finding(folded, key, change):
    (finding,) = found_in(rule, spoiled(folded, key, change))
    assert finding.spot.part == key
    return finding


def test_a_slit_in_the_tape_of_a_hinge_tab(book):
    found = the_finding(
        book, "page-3", lambda p: with_cut(p, "binding.tab", (6, 20), (6, 20 + Fraction(50, 7)))
    )
    assert found.severity is Severity.WARNING
    assert float(found.amount.value) == pytest.approx(50 / 7, abs=0.01)
    assert found.spot.panel == "binding.tab"


def test_a_slit_that_is_only_partly_in_the_tape(book):
    # the tape of the tab runs from 1.5 to 10.5 across
    found = the_finding(book, "page-3", lambda p: with_cut(p, "binding.tab", (8, 20), (12, 20)))
    assert float(found.amount.value) == pytest.approx(2.5, abs=0.01)


def test_a_punched_hole_in_the_tape(book):
    hole = circle((6, 50), Fraction(16, 7))
    found = the_finding(book, "page-3", lambda p: with_hole(p, "binding.tab", hole))
    assert float(found.amount.value) == pytest.approx(2 * math.pi * 16 / 7, rel=0.01)


def test_a_window_that_reaches_into_the_tape(book):
    hole = rectangle(9, 40, 11, 60)
    found = the_finding(book, "page-3", lambda p: with_hole(p, "binding.tab", hole))
    assert float(found.amount.value) == pytest.approx(20 + 2 * 1.5, abs=0.02)


def test_a_perforation_in_the_tape(book):
    found = the_finding(
        book, "page-3", lambda p: with_perforation(p, "binding.tab", (0, 30), (12, 30))
    )
    assert float(found.amount.value) == pytest.approx(9, abs=0.01)


def test_tape_that_was_moved_out_over_the_edge_is_cut(book):
    found = the_finding(book, "page-3", lambda p: moved_zone(p, "binding.tab", dx=-3))
    assert float(found.amount.value) == pytest.approx(100, abs=0.01)


def test_tape_that_was_made_to_cover_a_window(book):
    def change(part):
        part = with_hole(part, "binding.channel", rectangle(14, 60, 16, 70))
        return changed_zone(part, "binding.tab", lambda z: rectangle(1, 50, 15, 65))

    found = found_in(rule, spoiled(book, "page-3", change))
    assert "binding.tab" in {finding.spot.panel for finding in found}


def test_a_cut_along_the_border_of_the_tape_is_not_in_it(book):
    folded = spoiled(
        book,
        "page-3",
        lambda p: with_cut(p, "binding.tab", (Fraction(21, 2), 20), (Fraction(21, 2), 60)),
    )
    assert found_in(rule, folded) == []


def test_slits_that_the_tape_of_a_neighbour_covers_are_a_remark(folded_of):
    folded = folded_of(SIXTHS)
    (found,) = found_in(rule, flat_book(folded.book, folded.workshop))
    assert found.severity is Severity.REMARK
    assert (found.spot.part, found.spot.panel) == ("page-3", "page")


def test_tape_moved_off_the_slits_covers_none(folded_of):
    folded = folded_of(SIXTHS)
    book = folded.book
    (zone, part) = next(
        (j.zone, j.part) for j in book.joins if j.onto_part == "page-3" and j.onto_panel == "page"
    )
    middle = type(book.joins[0].offset)(Fraction(80), Fraction(40))
    moved = changed_join(book, part, zone, offset=middle, width=Fraction(9), height=Fraction(20))
    assert found_in(rule, flat_book(moved, folded.workshop)) == []


def test_a_cut_along_a_slanted_border_of_the_tape_is_not_in_it(book):
    slanted = polyline([(2, 10), (8, 40), (8, 90), (2, 90)], closed=True)

    def change(part):
        part = changed_zone(part, "binding.tab", lambda z: slanted)
        return with_cut(part, "binding.tab", (2, 10), (8, 40))

    assert found_in(rule, spoiled(book, "page-3", change)) == []
