"""Flaps that meet. The gap of 1/32 in and the lap of 3/8 in are from memory, all else is geometry."""

from dataclasses import replace
from fractions import Fraction

import pytest
from seam_spoils import (
    INCH,
    MORE,
    POCKETS,
    correct_books,
    cut_short,
    every_insert,
    faults_in,
    found_in,
    speaking,
    spoiled,
)
from spoiling import longer_panel

from dielines.checks.finding import Severity
from dielines.checks.rules import flaps_collide as rule
from dielines.folding.folded_book import FoldedBook
from dielines.folding.layering import Outcome

MEETING = """
title = "Doors"
units = "{units}"
size = "photo {photo}"
binding = "tab and channel"
mats = "none"
pages = ["plain leaf", "gate doors"]
[page.2]
short_of_middle = "{short}"
"""
GAP = INCH / 32


@pytest.fixture
def book(folded_of):
    return folded_of(POCKETS)


def test_samples_and_correct_books_have_flaps_that_clear_each_other(folded_of, samples):
    for folded in (*samples.values(), *correct_books(folded_of)):
        assert faults_in(rule, folded) == [], folded.book.title


@pytest.mark.parametrize("more", [Fraction(1, 8), Fraction(1, 7), Fraction(1, 4)])
def test_a_door_too_long_meets_the_other_by_this_rule_alone(book, more):
    folded = spoiled(book, "page-5", lambda p: cut_short(p, "y", 10, -more * INCH))
    (found,) = found_in(rule, folded)
    assert found.severity is Severity.WARNING
    assert found.amount.value == pytest.approx(float((more - Fraction(1, 8)) * INCH + GAP))
    assert speaking(folded) == {"flaps_collide"}


def test_doors_with_a_gap_of_a_thirtysecond_pass(book):
    folded = spoiled(book, "page-5", lambda p: cut_short(p, "y", 10, -(INCH / 8 - GAP)))
    assert found_in(rule, folded) == []


def test_doors_that_are_meant_to_lap_pass(book):
    folded = spoiled(book, "page-5", lambda p: cut_short(p, "y", 10, -INCH * 3 / 4))
    assert found_in(rule, folded) == []


def without_order(folded, key, first, second):
    """Return the book with nothing known of which of two panels lies over the other."""
    part = folded.parts[key]
    sides = {k: v for k, v in part.layering.sides.items() if set(k) != {first, second}}
    layering = replace(part.layering, outcome=Outcome.AMBIGUOUS, sides=sides)
    book = FoldedBook(folded.book, folded.workshop)
    vars(book)["parts"] = {**folded.parts, key: replace(part, layering=layering)}
    return book


def test_doors_that_lap_without_an_order_are_an_error(book):
    folded = spoiled(book, "page-5", lambda p: cut_short(p, "y", 10, -INCH * 3 / 4))
    (found,) = found_in(rule, without_order(folded, "page-5", "head_door", "tail_door"))
    assert found.severity is Severity.ERROR
    assert found.amount.value == pytest.approx(float(INCH * 5 / 8))


def test_a_flap_over_two_others_without_an_order_is_an_error_for_each(folded_of):
    folded = folded_of(MORE)
    for other in ("head_flap", "tail_flap"):
        folded = without_order(folded, "page-5", "flap", other)
    found = found_in(rule, folded)
    assert [f.severity for f in found] == [Severity.ERROR] * 2
    assert all(f.amount.value > 10 for f in found)


def test_flaps_at_head_and_tail_that_meet_are_told(folded_of):
    folded = spoiled(
        folded_of(MORE), "page-5", lambda p: longer_panel(p, "tail_flap", "y", INCH / 7)
    )
    found = found_in(rule, folded)
    assert [f.amount.value for f in found] == [pytest.approx(float(INCH / 7 - INCH / 8 + GAP))]


def test_seams_of_a_half_pocket_that_meet_are_told(book):
    width = book.book.part("page-3").part.panel("page").bounds().width
    seam = book.book.part("page-3").part.panel("seam1").bounds().width
    folded = spoiled(
        book, "page-3", lambda p: longer_panel(p, "seam1", "x", width - 2 * seam - Fraction(1, 3))
    )
    (found,) = found_in(rule, folded)
    assert found.amount.value == pytest.approx(float(GAP) - 1 / 3)


def test_flaps_that_lie_flat_on_each_other_may_overlap_by_little(folded_of):
    book = folded_of(every_insert())
    (key,) = [e.key for e in book.book.parts if e.part.template == "envelope"]
    folded = spoiled(book, key, lambda p: longer_panel(p, "foot", "y", Fraction(-25, 3)))
    foot, lid, face = (
        folded.book.part(key).part.panel(n).bounds() for n in ("foot", "lid", "face")
    )
    assert 0 < foot.height + lid.height - face.height < 6
    assert [f for f in found_in(rule, folded) if f.spot.part == key] == []


@pytest.mark.parametrize(
    ("units", "photo", "short"),
    [("in", "6 x 4", "0"), ("mm", "150 x 100", "0.3"), ("in", "5 x 7", "1/100")],
)
def test_following_the_advice_keeps_the_doors_apart(folded_of, units, photo, short):
    text = MEETING.format(units=units, photo=photo, short=short)
    (found,) = found_in(rule, folded_of(text))
    settings = [f"{a.setting}={float(a.value.mm):.6f} mm" for a in found.advice]
    assert settings[0].startswith("page.2.short_of_middle=")
    assert found_in(rule, folded_of(text, *settings)) == []
