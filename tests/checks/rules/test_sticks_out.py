"""Panels that stick out beyond the outline that they fold into. All amounts are geometry."""

from dataclasses import replace
from fractions import Fraction

import pytest
from seam_spoils import (
    INCH,
    MORE,
    POCKETS,
    correct_books,
    cut_short,
    faults_in,
    found_in,
    speaking,
    spoiled,
)
from spoiling import longer_panel

from dielines.checks.finding import Severity
from dielines.checks.rules import sticks_out as rule
from dielines.paths import rectangle


@pytest.fixture
def book(folded_of):
    return folded_of(POCKETS)


def the_finding(folded, panel):
    (found,) = [f for f in found_in(rule, folded) if f.spot.panel == panel]
    return found


def test_samples_and_correct_books_have_nothing_that_sticks_out(folded_of, samples):
    for folded in (*samples.values(), *correct_books(folded_of)):
        assert faults_in(rule, folded) == [], folded.book.title


def test_a_back_of_4_5_16_passes_its_seam_and_sticks_out_at_the_head_by_1_16(book):
    folded = spoiled(book, "page-1", lambda p: cut_short(p, "y", 30, -INCH / 16))
    found = the_finding(folded, "back")
    assert found.amount.value == INCH / 16
    assert found.severity is Severity.WARNING
    assert "head" in found.message
    assert speaking(folded) == {"sticks_out"}


def test_a_back_wider_than_its_front_sticks_out_at_the_fore_edge(book):
    folded = spoiled(book, "page-6", lambda p: wider(p, "back", Fraction(10, 7)))
    found = the_finding(folded, "back")
    assert found.amount.value == Fraction(10, 7)
    assert "fore-edge" in found.message


def wider(part, panel, by):
    """Return *part* with the outline of a panel alone wider, away from the binding edge."""
    box = part.panel(panel).bounds()
    left = box.left - (by if part.bound.side == "right" else 0)
    right = box.right + (by if part.bound.side == "left" else 0)
    ring = rectangle(left, box.bottom, right, box.top)
    panels = [replace(p, outline=ring) if p.name == panel else p for p in part.panels]
    return replace(part, panels=tuple(panels))


def test_what_sticks_out_farther_than_the_square_is_an_error(book):
    square = book.book.reasons.length("square").mm
    folded = spoiled(book, "page-6", lambda p: wider(p, "back", square + Fraction(1, 3)))
    assert the_finding(folded, "back").severity is Severity.ERROR


def test_a_flap_wider_than_its_page_sticks_out_at_the_binding_edge(book):
    part = book.book.part("page-2").part
    by = part.panel("page").bounds().width - part.panel("flap").bounds().width + Fraction(3, 7)
    folded = spoiled(book, "page-2", lambda p: longer_panel(p, "flap", "x", by))
    found = the_finding(folded, "flap")
    assert found.amount.value == Fraction(3, 7)
    assert found.severity is Severity.ERROR
    assert "binding edge" in found.message


def test_doors_wider_than_their_page_stick_out(book):
    folded = spoiled(book, "page-5", lambda p: wider(p, "head_door", Fraction(5, 3)))
    assert the_finding(folded, "head_door").amount.value == Fraction(5, 3)
    assert speaking(folded) == {"sticks_out"}


def test_a_half_pocket_taller_than_its_page_sticks_out_at_the_head(book):
    part = book.book.part("page-3").part
    more = part.panel("page").bounds().height - part.panel("pocket").bounds().height
    by = more + Fraction(13, 7)
    folded = spoiled(book, "page-3", lambda p: cut_short(p, "y", 20, -by))
    found = the_finding(folded, "pocket")
    assert found.amount.value == Fraction(13, 7)
    assert "head" in found.message


def test_a_leaf_that_rolls_in_too_wide_sticks_out(folded_of):
    book = folded_of(MORE)
    part = book.book.part("page-8").part
    page, leaf = (part.panel(name).bounds().width for name in ("page", "leaf1"))
    by = page - leaf + Fraction(5, 7)
    folded = spoiled(book, "page-8", lambda p: longer_panel(p, "leaf1", "x", by))
    assert the_finding(folded, "leaf1").amount.value == Fraction(5, 7)


def test_a_wall_wider_than_its_page_sticks_out(book):
    folded = spoiled(book, "page-1", lambda p: wider(p, "head", Fraction(7, 3)))
    assert the_finding(folded, "head").amount.value == Fraction(7, 3)


def test_a_tab_of_the_binding_goes_beyond_its_page_and_is_no_matter_of_this_rule(book):
    folded = spoiled(book, "page-1", lambda p: longer_panel(p, "binding.tab", "x", 7 * INCH))
    assert found_in(rule, folded) == []
